#include "solver/assembly/lower_columns.hpp"

#include <algorithm>
#include <utility>

namespace halftool::solver {

LowerColumns restricted(const SparsityPattern& pattern, const std::vector<int>& rows) {
  const std::vector<int> local = places_in(rows, pattern.n_equations());
  LowerColumns columns{{0}, {}, {}};
  for (const int column : rows) {
    for (int k = pattern.column_starts()[column]; k < pattern.column_starts()[column + 1]; ++k)
      if (const int row = local[pattern.rows()[k]]; row >= 0) {
        columns.rows.push_back(row);
        columns.slots.push_back(k);
      }
    columns.column_starts.push_back(static_cast<int>(columns.rows.size()));
  }
  return columns;
}

LowerColumns reordered(const LowerColumns& pattern, const std::vector<int>& order) {
  const int n = pattern.size();
  const std::vector<int> position = places_in(order, n);
  std::vector<std::vector<std::pair<int, int>>> columns(n);  // row and slot
  for (int column = 0; column < n; ++column)
    for (int k = pattern.column_starts[column]; k < pattern.column_starts[column + 1]; ++k) {
      const auto [low, high] = std::minmax({position[column], position[pattern.rows[k]]});
      columns[low].emplace_back(high, pattern.slots[k]);
    }
  LowerColumns result{{0}, {}, {}};
  result.rows.reserve(pattern.rows.size());
  result.slots.reserve(pattern.rows.size());
  for (auto& column : columns) {
    std::sort(column.begin(), column.end());
    for (const auto& [row, slot] : column) {
      result.rows.push_back(row);
      result.slots.push_back(slot);
    }
    result.column_starts.push_back(static_cast<int>(result.rows.size()));
  }
  return result;
}

std::vector<int> places_in(const std::vector<int>& list, int n) {
  std::vector<int> place(n, -1);
  for (size_t i = 0; i < list.size(); ++i) place[list[i]] = static_cast<int>(i);
  return place;
}

}  // namespace halftool::solver
