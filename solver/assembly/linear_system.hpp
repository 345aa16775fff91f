#pragma once
#include <Eigen/Core>
#include <memory>
#include <string>
#include <vector>

#include "solver/assembly/factor.hpp"
#include "solver/assembly/sparsity.hpp"

namespace halftool::solver {

/// What a linear system has done so far.
struct LinearSystemUse {
  int factorisations = 0;        ///< asked for
  int indefinite = 0;            ///< of these, with negative pivots
  int refused = 0;               ///< of these, singular or failed
  int wasted_cholesky = 0;       ///< Cholesky attempts that met a negative pivot
  int most_negative_pivots = 0;  ///< in one factorisation
  int solutions = 0;             ///< right-hand sides solved
  double analyse_seconds = 0;    ///< wall time
  double factorise_seconds = 0;
  double solve_seconds = 0;
};

/// Direct solution of symmetric systems of one pattern: ordered and analysed once, factorised as often as the
/// values change. Positive definite matrices take Cholesky; others a symmetric indefinite factorisation that
/// counts the negative pivots. Same bits from run to run and for any number of threads.
class LinearSystem {
 public:
  /// @param group_of_equation  (n_equations) see fill_reducing_order
  /// @param threads  to use at most, from 1
  /// @throws std::invalid_argument  no equations, or groups that do not match them
  LinearSystem(const SparsityPattern& pattern, const std::vector<int>& group_of_equation, int threads = 1);
  ~LinearSystem();
  LinearSystem(LinearSystem&&) noexcept;
  LinearSystem& operator=(LinearSystem&&) noexcept;

  [[nodiscard]] int n_equations() const;

  /// @param values  (n_values) lower triangle in the order of the pattern; need not live on
  /// @return never throws for what the numbers do; see FactorOutcome
  FactorOutcome factorise(const Eigen::Ref<const Eigen::VectorXd>& values);

  /// @param rhs  (n_equations, any) right-hand sides as columns
  /// @return (n_equations, any) solutions with the last factors
  /// @throws std::logic_error  the last factorisation was not `ok`, or the rows do not match
  [[nodiscard]] Eigen::MatrixXd solve(const Eigen::Ref<const Eigen::MatrixXd>& rhs);

  [[nodiscard]] const LinearSystemUse& use() const;

  /// Factorisations for which Cholesky is not tried, for the last matrices were indefinite. Together with the
  /// values it settles the rounding of what comes.
  [[nodiscard]] int stays_indefinite() const;
  void stay_indefinite(int factorisations);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace halftool::solver
