#pragma once
#include <vector>

#include "solver/assembly/sparsity.hpp"

namespace halftool::solver {

/// Order of elimination with little fill: nested dissection (METIS) of the graph of groups, each group's
/// equations kept together. Unknowns of one node or edge have the same neighbours, so the graph of groups
/// says it all at a fraction of the cost. Source: Karypis and Kumar 1998.
/// @param group_of_equation  (n_equations) any numbers from 0; equations of one node or edge share a number
/// @return (n_equations) equation eliminated first, second, ...; the same from run to run
/// @throws std::invalid_argument  not one group from 0 for each equation
std::vector<int> fill_reducing_order(const SparsityPattern& pattern,
                                     const std::vector<int>& group_of_equation);

}  // namespace halftool::solver
