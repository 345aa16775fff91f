#include "solver/assembly/equations.hpp"

#include <algorithm>
#include <cmath>

namespace halftool::solver {
namespace {

constexpr int kHeld = -1;
constexpr int kFree = 0;

void hold_edge(Equations& equations, int edge) {
  equations.turn(edge) = kHeld;
  equations.bow(edge) = kHeld;
}

// Marks what is held: 0 free, -1 held.
void mark_held(const mesh::Blank& blank, bool enriched, Equations& equations) {
  for (int edge = 0; edge < blank.edges.n_edges(); ++edge) {
    const auto ends = blank.edges.nodes.row(edge);
    const mesh::EdgeKind kind = blank.edge_kind[edge];
    if (!enriched) equations.bow(edge) = kHeld;
    if (kind == mesh::EdgeKind::symmetry_x || kind == mesh::EdgeKind::symmetry_y) {
      const int axis = kind == mesh::EdgeKind::symmetry_x ? 0 : 1;
      hold_edge(equations, edge);
      for (int end = 0; end < 2; ++end) equations.of_node(ends(end), axis) = kHeld;
    }
    if (kind == mesh::EdgeKind::outer && blank.rim_held) {
      hold_edge(equations, edge);
      for (int end = 0; end < 2; ++end) equations.of_node.row(ends(end)).setConstant(kHeld);
    }
  }
}

}  // namespace

Equations number_equations(const mesh::Blank& blank, bool enriched) {
  Equations equations;
  equations.of_node.setConstant(blank.mesh.n_nodes(), 3, kFree);
  equations.turn.setConstant(blank.edges.n_edges(), kFree);
  equations.bow.setConstant(blank.edges.n_edges(), kFree);
  mark_held(blank, enriched, equations);
  for (Eigen::Index node = 0; node < equations.of_node.rows(); ++node)
    for (int c = 0; c < 3; ++c)
      if (equations.of_node(node, c) != kHeld) equations.of_node(node, c) = equations.count++;
  for (int edge = 0; edge < blank.edges.n_edges(); ++edge) {
    if (equations.turn(edge) != kHeld) equations.turn(edge) = equations.count++;
    if (equations.bow(edge) != kHeld) equations.bow(edge) = equations.count++;
  }
  return equations;
}

ElementEquations triangle_equations(const mesh::Blank& blank, const Equations& equations) {
  ElementEquations all(blank.mesh.n_triangles(), kTriangleUnknowns);
  for (int t = 0; t < blank.mesh.n_triangles(); ++t) {
    for (int i = 0; i < 3; ++i) {
      for (int c = 0; c < 3; ++c) all(t, 3 * i + c) = equations.of_node(blank.mesh.triangles(t, i), c);
      all(t, 9 + i) = equations.turn(blank.edges.of_triangle(t, i));
      all(t, 12 + i) = equations.bow(blank.edges.of_triangle(t, i));
    }
  }
  return all;
}

std::vector<int> equation_groups(const Equations& equations) {
  std::vector<int> group(equations.count);
  int next = 0;
  for (Eigen::Index node = 0; node < equations.of_node.rows(); ++node, ++next)
    for (int c = 0; c < 3; ++c)
      if (const int eq = equations.of_node(node, c); eq >= 0) group[eq] = next;
  for (Eigen::Index edge = 0; edge < equations.turn.size(); ++edge, ++next) {
    if (const int eq = equations.turn(edge); eq >= 0) group[eq] = next;
    if (const int eq = equations.bow(edge); eq >= 0) group[eq] = next;
  }
  return group;
}

SheetPlace moved(const SheetPlace& place, const Equations& equations, const Eigen::VectorXd& change) {
  SheetPlace result = place;
  for (Eigen::Index node = 0; node < result.positions.rows(); ++node)
    for (int c = 0; c < 3; ++c)
      if (const int eq = equations.of_node(node, c); eq >= 0) result.positions(node, c) += change(eq);
  for (Eigen::Index edge = 0; edge < result.turn.size(); ++edge) {
    if (const int eq = equations.turn(edge); eq >= 0) result.turn(edge) += change(eq);
    if (const int eq = equations.bow(edge); eq >= 0) result.bow(edge) += change(eq);
  }
  return result;
}

Eigen::VectorXd difference(const SheetPlace& to, const SheetPlace& from, const Equations& equations) {
  Eigen::VectorXd change = Eigen::VectorXd::Zero(equations.count);
  for (Eigen::Index node = 0; node < to.positions.rows(); ++node)
    for (int c = 0; c < 3; ++c)
      if (const int eq = equations.of_node(node, c); eq >= 0)
        change(eq) = to.positions(node, c) - from.positions(node, c);
  for (Eigen::Index edge = 0; edge < to.turn.size(); ++edge) {
    if (const int eq = equations.turn(edge); eq >= 0) change(eq) = to.turn(edge) - from.turn(edge);
    if (const int eq = equations.bow(edge); eq >= 0) change(eq) = to.bow(edge) - from.bow(edge);
  }
  return change;
}

double largest_of_nodes(const Eigen::VectorXd& field, const Equations& equations) {
  double largest = 0;
  for (Eigen::Index node = 0; node < equations.of_node.rows(); ++node) {
    double square = 0;
    for (int c = 0; c < 3; ++c)
      if (const int eq = equations.of_node(node, c); eq >= 0) square += field(eq) * field(eq);
    largest = std::max(largest, square);
  }
  return std::sqrt(largest);
}

}  // namespace halftool::solver
