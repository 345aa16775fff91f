#include "solver/assembly/fill_order.hpp"

#include <metis.h>

#include <algorithm>
#include <array>
#include <iterator>
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

std::array<idx_t, METIS_NOPTIONS> same_every_time() {
  std::array<idx_t, METIS_NOPTIONS> options;
  METIS_SetDefaultOptions(options.data());
  options[METIS_OPTION_SEED] = 1;
  return options;
}

void check(int outcome, idx_t n_groups) {
  if (outcome != METIS_OK)
    throw std::runtime_error("METIS could not order " + std::to_string(n_groups) + " groups of equations");
}

/// (n_groups) group eliminated first, second, ...
std::vector<idx_t> dissect(GroupGraph& graph) {
  auto n_groups = static_cast<idx_t>(graph.weights.size());
  std::vector<idx_t> order(n_groups), position(n_groups);
  if (graph.neighbours.empty()) {
    std::iota(order.begin(), order.end(), 0);
    return order;
  }
  auto options = same_every_time();
  check(METIS_NodeND(&n_groups, graph.starts.data(), graph.neighbours.data(), graph.weights.data(),
                     options.data(), order.data(), position.data()),
        n_groups);
  return order;
}

/// The two halves and, last, the groups between them that keep them apart.
std::array<std::vector<idx_t>, 3> halve(GroupGraph& graph) {
  auto n_groups = static_cast<idx_t>(graph.weights.size());
  std::vector<idx_t> side(n_groups, 0);
  if (!graph.neighbours.empty()) {
    auto options = same_every_time();
    idx_t separator = 0;
    check(METIS_ComputeVertexSeparator(&n_groups, graph.starts.data(), graph.neighbours.data(),
                                       graph.weights.data(), options.data(), &separator, side.data()),
          n_groups);
  }
  std::array<std::vector<idx_t>, 3> result;
  for (idx_t group = 0; group < n_groups; ++group) result[side[group]].push_back(group);
  return result;
}

/// The graph of some groups alone.
GroupGraph restrict_to(const GroupGraph& graph, const std::vector<idx_t>& groups) {
  std::vector<idx_t> local(graph.weights.size(), -1);
  for (size_t k = 0; k < groups.size(); ++k) local[groups[k]] = static_cast<idx_t>(k);
  GroupGraph result{{0}, {}, {}};
  for (const idx_t group : groups) {
    for (idx_t k = graph.starts[group]; k < graph.starts[group + 1]; ++k)
      if (const idx_t other = local[graph.neighbours[k]]; other >= 0) result.neighbours.push_back(other);
    result.starts.push_back(static_cast<idx_t>(result.neighbours.size()));
    result.weights.push_back(graph.weights[group]);
  }
  return result;
}

/// Groups in their order of elimination.
struct GroupOrder {
  std::vector<std::vector<idx_t>> parts;
  std::vector<idx_t> interface;
};

/// @param groups  what the rows of the graph stand for
GroupOrder order_groups(GroupGraph graph, const std::vector<idx_t>& groups, int halvings) {
  GroupOrder result;
  if (halvings == 0) {
    std::vector<idx_t> part;
    for (const idx_t group : dissect(graph)) part.push_back(groups[group]);
    result.parts.push_back(std::move(part));
    return result;
  }
  const auto [first, second, between] = halve(graph);
  for (const auto* half : {&first, &second}) {
    std::vector<idx_t> of_half;
    for (const idx_t group : *half) of_half.push_back(groups[group]);
    GroupOrder inner = order_groups(restrict_to(graph, *half), of_half, halvings - 1);
    std::move(inner.parts.begin(), inner.parts.end(), std::back_inserter(result.parts));
    result.interface.insert(result.interface.end(), inner.interface.begin(), inner.interface.end());
  }
  for (const idx_t group : between) result.interface.push_back(groups[group]);
  return result;
}

}  // namespace

FillOrder fill_reducing_order(const SparsityPattern& pattern, const std::vector<int>& group_of_equation,
                              int halvings) {
  const int n = pattern.n_equations();
  if (static_cast<int>(group_of_equation.size()) != n ||
      (n > 0 && *std::min_element(group_of_equation.begin(), group_of_equation.end()) < 0))
    throw std::invalid_argument("one group from 0 is needed for each of " + std::to_string(n) + " equations");
  if (n == 0) return {{}, std::vector<int>(size_t{1} << halvings, 0)};
  GroupGraph graph = build_group_graph(pattern, group_of_equation);
  std::vector<int> first(graph.weights.size() + 1, 0);  // of each group in the list of its equations
  std::partial_sum(graph.weights.begin(), graph.weights.end(), first.begin() + 1);
  std::vector<int> equations_of(n);
  std::vector<int> next(first.begin(), first.end() - 1);
  for (int equation = 0; equation < n; ++equation)
    equations_of[next[group_of_equation[equation]]++] = equation;

  std::vector<idx_t> groups(graph.weights.size());
  std::iota(groups.begin(), groups.end(), 0);
  const GroupOrder group_order = order_groups(std::move(graph), groups, halvings);
  FillOrder result;
  result.order.reserve(n);
  const auto append = [&](const std::vector<idx_t>& more) {
    for (const idx_t group : more)
      result.order.insert(result.order.end(), equations_of.begin() + first[group],
                          equations_of.begin() + first[group + 1]);
  };
  for (const auto& part : group_order.parts) {
    append(part);
    result.part_ends.push_back(static_cast<int>(result.order.size()));
  }
  append(group_order.interface);
  return result;
}

}  // namespace halftool::solver
