#pragma once
#include <vector>

#include "solver/assembly/sparsity.hpp"

namespace halftool::solver {

/// The lower triangle of a symmetric matrix in compressed columns, its values a selection from others.
struct LowerColumns {
  std::vector<int> column_starts;  ///< (n + 1)
  std::vector<int> rows;           ///< (n_values), rising in a column, its diagonal first
  std::vector<int> slots;          ///< (n_values) where each value stands among the others

  [[nodiscard]] int size() const { return static_cast<int>(column_starts.size()) - 1; }
};

/// Rows and columns of a matrix that are given, as a matrix of their own.
/// @param rows  rising
LowerColumns restricted(const SparsityPattern& pattern, const std::vector<int>& rows);

/// The same matrix with its rows and columns in another order.
/// @param order  (n) row that comes first, second, ...
LowerColumns reordered(const LowerColumns& pattern, const std::vector<int>& order);

/// (n) place of each number in `list`; -1 where it is not in it.
std::vector<int> places_in(const std::vector<int>& list, int n);

}  // namespace halftool::solver
