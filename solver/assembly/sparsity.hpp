#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/kinematics/shell_triangle.hpp"

namespace halftool::solver {

/// (n_elements, 15) global equation of each unknown of a triangle; -1 where the unknown is held or absent.
using ElementEquations = Eigen::Matrix<int, Eigen::Dynamic, kTriangleUnknowns, Eigen::RowMajor>;

/// The fixed pattern of a symmetric matrix that is a sum of element matrices: its lower triangle in
/// compressed columns, and the place of every element entry in the array of values. Every diagonal entry is
/// stored.
class SparsityPattern {
 public:
  /// Entries in the lower triangle of an element matrix.
  static constexpr int kEntries = kTriangleUnknowns * (kTriangleUnknowns + 1) / 2;

  /// @throws std::invalid_argument  an equation outside -1 .. n_equations - 1, or twice in one element
  SparsityPattern(const ElementEquations& equations, int n_equations);

  [[nodiscard]] int n_equations() const { return static_cast<int>(column_starts_.size()) - 1; }
  [[nodiscard]] int n_elements() const { return static_cast<int>(slots_.size()) / kEntries; }
  [[nodiscard]] int n_values() const { return static_cast<int>(rows_.size()); }
  [[nodiscard]] const std::vector<int>& column_starts() const {
    return column_starts_;
  }                                                                     ///< (n_equations + 1)
  [[nodiscard]] const std::vector<int>& rows() const { return rows_; }  ///< (n_values), rising in a column

  /// Places of the 120 entries of an element, column by column of its lower triangle; -1 where held.
  [[nodiscard]] const int* slots(int element) const {
    return &slots_[static_cast<size_t>(element) * kEntries];
  }

  /// Place of the diagonal entry of an equation.
  [[nodiscard]] int diagonal_slot(int equation) const { return column_starts_[equation]; }

  /// Adds the lower triangle of an element matrix to `values` (n_values).
  void scatter(int element, const TriangleMatrix& matrix, Eigen::Ref<Eigen::VectorXd> values) const;

  /// The symmetric product matrix * x, (n_equations).
  [[nodiscard]] Eigen::VectorXd multiply(const Eigen::Ref<const Eigen::VectorXd>& values,
                                         const Eigen::Ref<const Eigen::VectorXd>& x) const;

 private:
  void collect_rows(const ElementEquations& equations, int n_equations);
  void find_slots(const ElementEquations& equations);

  std::vector<int> column_starts_;
  std::vector<int> rows_;
  std::vector<int> slots_;  // (n_elements, kEntries)
};

}  // namespace halftool::solver
