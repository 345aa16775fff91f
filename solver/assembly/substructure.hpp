#pragma once
#include <Eigen/Core>
#include <memory>
#include <vector>

#include "solver/assembly/fill_order.hpp"
#include "solver/assembly/supernodal_factor.hpp"

namespace halftool::solver {

/// One part of a matrix with the rows and columns of the interface that it touches. These are a principal
/// submatrix of the whole, positive definite where that is, so that a library for whole matrices eliminates
/// the part; what it finds for the interface then is the part's share in the interface's matrix.
/// Source: Przemieniecki 1963.
class Substructure {
 public:
  /// @param part_of  (n_equations) -1 on the interface
  /// @param interface_place  (n_equations) place of an equation in the interface, falling in the order of
  ///   elimination; -1 elsewhere
  Substructure(const SparsityPattern& pattern, const std::vector<int>& order, const std::vector<int>& part_of,
               int part, const std::vector<int>& interface_place);

  /// @param values  (n_values) of the whole
  FactorOutcome factorise(const Eigen::Ref<const Eigen::VectorXd>& values);

  /// (n_touched) places in the interface, rising.
  [[nodiscard]] const std::vector<int>& touched() const { return touched_; }

  /// Adds to the upper triangle what is left of the interface's rows once the part is eliminated, the
  /// interface's own entries among the touched ones included.
  void add_share(Eigen::MatrixXd& interface) const;

  /// Eliminates the part from right-hand sides (n_equations, any).
  void forward(const Eigen::Ref<const Eigen::MatrixXd>& rhs);
  /// Adds to (n_interface, any) what the last right-hand sides leave there.
  void add_passed_on(Eigen::MatrixXd& interface) const;

  /// @param interface  (n_interface, any) the solution there
  /// @param solution  (n_equations, any) written where the part is
  void backward(const Eigen::MatrixXd& interface, Eigen::Ref<Eigen::MatrixXd> solution);

 private:
  std::vector<int> rows_;   // equations of the whole
  std::vector<int> place_;  // (n_rows) in touched_; -1 within the part
  std::vector<int> touched_;
  std::unique_ptr<SupernodalFactor> factor_;
  Eigen::MatrixXd upper_, share_;  // (n_touched, n_touched) last block of the factor, its square
  Eigen::MatrixXd half_solved_, passed_on_;
};

}  // namespace halftool::solver
