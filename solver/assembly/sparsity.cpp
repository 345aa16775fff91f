#include "solver/assembly/sparsity.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string>

namespace halftool::solver {
namespace {

void check_equations(const ElementEquations& equations, int n_equations) {
  for (Eigen::Index element = 0; element < equations.rows(); ++element) {
    std::array<int, kTriangleUnknowns> sorted;
    for (int i = 0; i < kTriangleUnknowns; ++i) sorted[i] = equations(element, i);
    std::sort(sorted.begin(), sorted.end());
    for (int i = 0; i < kTriangleUnknowns; ++i) {
      const bool twice = i > 0 && sorted[i] >= 0 && sorted[i] == sorted[i - 1];
      if (sorted[i] < -1 || sorted[i] >= n_equations || twice)
        throw std::invalid_argument(
            "element " + std::to_string(element) + ": equation " + std::to_string(sorted[i]) +
            (twice ? " appears twice" : " is not one of ") + (twice ? "" : std::to_string(n_equations)));
    }
  }
}

}  // namespace

SparsityPattern::SparsityPattern(const ElementEquations& equations, int n_equations) {
  check_equations(equations, n_equations);
  collect_rows(equations, n_equations);
  find_slots(equations);
}

void SparsityPattern::collect_rows(const ElementEquations& equations, int n_equations) {
  std::vector<int> first(n_equations + 1, 0);  // of each equation in the list of its elements
  for (const int equation : equations.reshaped())
    if (equation >= 0) ++first[equation + 1];
  for (int i = 0; i < n_equations; ++i) first[i + 1] += first[i];
  std::vector<int> elements_of(first[n_equations]);
  std::vector<int> next(first.begin(), first.end() - 1);
  for (int element = 0; element < static_cast<int>(equations.rows()); ++element)
    for (const int equation : equations.row(element))
      if (equation >= 0) elements_of[next[equation]++] = element;

  column_starts_.assign(1, 0);
  std::vector<int> column;
  for (int equation = 0; equation < n_equations; ++equation) {
    column.assign(1, equation);
    for (int k = first[equation]; k < first[equation + 1]; ++k)
      for (const int row : equations.row(elements_of[k]))
        if (row > equation) column.push_back(row);
    std::sort(column.begin(), column.end());
    rows_.insert(rows_.end(), column.begin(), std::unique(column.begin(), column.end()));
    column_starts_.push_back(static_cast<int>(rows_.size()));
  }
}

void SparsityPattern::find_slots(const ElementEquations& equations) {
  slots_.reserve(equations.rows() * kEntries);
  for (Eigen::Index element = 0; element < equations.rows(); ++element)
    for (int j = 0; j < kTriangleUnknowns; ++j)
      for (int i = j; i < kTriangleUnknowns; ++i) {
        const auto [column, row] = std::minmax({equations(element, i), equations(element, j)});
        if (column < 0) {
          slots_.push_back(-1);
          continue;
        }
        const auto begin = rows_.begin() + column_starts_[column];
        const auto end = rows_.begin() + column_starts_[column + 1];
        slots_.push_back(static_cast<int>(std::lower_bound(begin, end, row) - rows_.begin()));
      }
}

void SparsityPattern::scatter(int element, const TriangleMatrix& matrix,
                              Eigen::Ref<Eigen::VectorXd> values) const {
  const int* slot = slots(element);
  for (int j = 0; j < kTriangleUnknowns; ++j)
    for (int i = j; i < kTriangleUnknowns; ++i, ++slot)
      if (*slot >= 0) values[*slot] += matrix(i, j);
}

Eigen::VectorXd SparsityPattern::multiply(const Eigen::Ref<const Eigen::VectorXd>& values,
                                          const Eigen::Ref<const Eigen::VectorXd>& x) const {
  Eigen::VectorXd product = Eigen::VectorXd::Zero(n_equations());
  for (int column = 0; column < n_equations(); ++column)
    for (int k = column_starts_[column]; k < column_starts_[column + 1]; ++k) {
      product[rows_[k]] += values[k] * x[column];
      if (rows_[k] != column) product[column] += values[k] * x[rows_[k]];
    }
  return product;
}

}  // namespace halftool::solver
