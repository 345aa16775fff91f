#include "solver/assembly/fill_order.hpp"

#include <metis.h>

#include <algorithm>
#include <array>
#include <numeric>
#include <stdexcept>
#include <string>

namespace halftool::solver {
namespace {

struct GroupGraph {
  std::vector<idx_t> starts, neighbours, weights;  // weights: equations of each group
};

GroupGraph build_group_graph(const SparsityPattern& pattern, const std::vector<int>& group_of_equation) {
  const int n_groups = 1 + *std::max_element(group_of_equation.begin(), group_of_equation.end());
  std::vector<std::vector<idx_t>> neighbours(n_groups);
  for (int column = 0; column < pattern.n_equations(); ++column)
    for (int k = pattern.column_starts()[column]; k < pattern.column_starts()[column + 1]; ++k) {
      const int a = group_of_equation[column];
      const int b = group_of_equation[pattern.rows()[k]];
      if (a == b) continue;
      neighbours[a].push_back(b);
      neighbours[b].push_back(a);
    }
  GroupGraph graph{{0}, {}, std::vector<idx_t>(n_groups, 0)};
  for (const int group : group_of_equation) ++graph.weights[group];
  for (auto& list : neighbours) {
    std::sort(list.begin(), list.end());
    graph.neighbours.insert(graph.neighbours.end(), list.begin(), std::unique(list.begin(), list.end()));
    graph.starts.push_back(static_cast<idx_t>(graph.neighbours.size()));
  }
  return graph;
}

/// (n_groups) group eliminated first, second, ...
std::vector<idx_t> dissect(GroupGraph graph) {
  auto n_groups = static_cast<idx_t>(graph.weights.size());
  std::vector<idx_t> order(n_groups), position(n_groups);
  if (graph.neighbours.empty()) {
    std::iota(order.begin(), order.end(), 0);
    return order;
  }
  std::array<idx_t, METIS_NOPTIONS> options;
  METIS_SetDefaultOptions(options.data());
  options[METIS_OPTION_SEED] = 1;  // same order from run to run
  if (METIS_NodeND(&n_groups, graph.starts.data(), graph.neighbours.data(), graph.weights.data(),
                   options.data(), order.data(), position.data()) != METIS_OK)
    throw std::runtime_error("METIS could not order " + std::to_string(n_groups) + " groups of equations");
  return order;
}

}  // namespace

std::vector<int> fill_reducing_order(const SparsityPattern& pattern,
                                     const std::vector<int>& group_of_equation) {
  const int n = pattern.n_equations();
  if (static_cast<int>(group_of_equation.size()) != n ||
      (n > 0 && *std::min_element(group_of_equation.begin(), group_of_equation.end()) < 0))
    throw std::invalid_argument("one group from 0 is needed for each of " + std::to_string(n) + " equations");
  if (n == 0) return {};
  GroupGraph graph = build_group_graph(pattern, group_of_equation);
  std::vector<int> first(graph.weights.size() + 1, 0);  // of each group in the list of its equations
  std::partial_sum(graph.weights.begin(), graph.weights.end(), first.begin() + 1);
  std::vector<int> equations_of(n);
  std::vector<int> next(first.begin(), first.end() - 1);
  for (int equation = 0; equation < n; ++equation)
    equations_of[next[group_of_equation[equation]]++] = equation;

  std::vector<int> order;
  order.reserve(n);
  for (const idx_t group : dissect(std::move(graph)))
    order.insert(order.end(), equations_of.begin() + first[group], equations_of.begin() + first[group + 1]);
  return order;
}

}  // namespace halftool::solver
