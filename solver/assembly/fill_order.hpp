#pragma once
#include <vector>

#include "solver/assembly/sparsity.hpp"

namespace halftool::solver {

/// An order of elimination, and where it falls into parts that can be eliminated side by side.
struct FillOrder {
  std::vector<int> order;      ///< (n_equations) equation eliminated first, second, ...
  std::vector<int> part_ends;  ///< (n_parts) of each part in `order`; the interface follows the last
};

/// Order of elimination with little fill: nested dissection (METIS) of the graph of groups, each group's
/// equations kept together. Unknowns of one node or edge have the same neighbours, so the graph of groups
/// says it all at a fraction of the cost. Source: Karypis and Kumar 1998.
/// No entry of the matrix couples two parts; the interface between them comes last.
/// @param group_of_equation  (n_equations) any numbers from 0; equations of one node or edge share a number
/// @param halvings  2^halvings parts
/// @return the same from run to run
/// @throws std::invalid_argument  not one group from 0 for each equation
FillOrder fill_reducing_order(const SparsityPattern& pattern, const std::vector<int>& group_of_equation,
                              int halvings = 0);

}  // namespace halftool::solver
