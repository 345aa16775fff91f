#pragma once
#include <Eigen/Core>
#include <memory>
#include <string>
#include <vector>

#include "solver/assembly/fill_order.hpp"
#include "solver/assembly/sparsity.hpp"

namespace halftool::solver {

/// What came of a factorisation.
struct FactorOutcome {
  bool ok = false;           ///< there are factors to solve with
  int negative_pivots = 0;   ///< = negative eigenvalues (Sylvester's law of inertia); 0 unless `ok`
  bool singular = false;     ///< to working accuracy; not `ok`
  std::string message = {};  ///< why it is not `ok`

  [[nodiscard]] bool positive_definite() const { return ok && negative_pivots == 0; }
};

/// Cholesky factors of a matrix in parts that are eliminated side by side, each on a thread of its own; the
/// interface between them is dense (substructuring; Przemieniecki 1963). Not `ok`, without being singular,
/// means that the matrix is not positive definite. Same bits for any number of threads.
class CholeskyFactor {
 public:
  /// @param threads  to use at most, from 1
  CholeskyFactor(const SparsityPattern& pattern, const FillOrder& order, int threads);
  ~CholeskyFactor();
  CholeskyFactor(const CholeskyFactor&) = delete;
  CholeskyFactor& operator=(const CholeskyFactor&) = delete;

  FactorOutcome factorise(const Eigen::Ref<const Eigen::VectorXd>& values);
  /// @param rhs  (n_equations, n_right_hand_sides), overwritten by the solution
  void solve_in_place(Eigen::Ref<Eigen::MatrixXd> rhs);

 private:
  struct Storage;
  std::unique_ptr<Storage> storage_;
};

/// Factors L D L^T with pivots of one and two rows (MUMPS; Amestoy, Duff, Koster and L'Excellent 2001) of any
/// symmetric matrix; counts the negative pivots.
class IndefiniteFactor {
 public:
  /// Analyses at the first factorisation, for most runs need none.
  IndefiniteFactor(const SparsityPattern& pattern, const std::vector<int>& order);
  ~IndefiniteFactor();
  IndefiniteFactor(const IndefiniteFactor&) = delete;
  IndefiniteFactor& operator=(const IndefiniteFactor&) = delete;

  FactorOutcome factorise(const Eigen::Ref<const Eigen::VectorXd>& values);
  /// @param rhs  (n_equations, n_right_hand_sides), overwritten by the solution
  void solve_in_place(Eigen::Ref<Eigen::MatrixXd> rhs);

 private:
  struct Storage;
  std::unique_ptr<Storage> storage_;
};

}  // namespace halftool::solver
