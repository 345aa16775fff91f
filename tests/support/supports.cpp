#include "tests/support/supports.hpp"

#include <cmath>
#include <utility>

namespace halftool::test {
namespace {

constexpr int kHeld = -1;

std::function<bool(const Eigen::Vector3d&)> in_plane(int axis, double value) {
  return [axis, value](const Eigen::Vector3d& x) {
    return std::abs(x(axis) - value) < 1e-9 * (1 + std::abs(value));
  };
}

void mark(const solver::SheetModel& model, const Support& support, solver::Equations& equations) {
  const mesh::Blank& blank = model.blank;
  const auto on = [&](int node) { return support.on(blank.mesh.nodes.row(node).transpose()); };
  for (int node = 0; node < blank.mesh.n_nodes(); ++node) {
    if (!on(node)) continue;
    for (int c = 0; c < 3; ++c)
      if (support.fixed[c]) equations.of_node(node, c) = kHeld;
  }
  for (int edge = 0; edge < blank.edges.n_edges(); ++edge) {
    if (!blank.edges.is_boundary(edge)) continue;
    if (!on(blank.edges.nodes(edge, 0)) || !on(blank.edges.nodes(edge, 1))) continue;
    if (support.turn) equations.turn(edge) = kHeld;
    if (support.bow) equations.bow(edge) = kHeld;
  }
}

void number(solver::Equations& equations) {
  equations.count = 0;
  const auto next = [&](int& equation) {
    if (equation != kHeld) equation = equations.count++;
  };
  for (Eigen::Index node = 0; node < equations.of_node.rows(); ++node)
    for (int c = 0; c < 3; ++c) next(equations.of_node(node, c));
  for (Eigen::Index edge = 0; edge < equations.turn.size(); ++edge) {
    next(equations.turn(edge));
    next(equations.bow(edge));
  }
}

}  // namespace

Support symmetry_plane(int axis) {
  Support support{in_plane(axis, 0), {}, true, true};
  support.fixed[axis] = true;
  return support;
}

Support diaphragm(int axis, double value) {
  Support support{in_plane(axis, value), {true, true, true}, false, false};
  support.fixed[axis] = false;
  return support;
}

Support clamp(std::function<bool(const Eigen::Vector3d&)> on) {
  return {std::move(on), {true, true, true}, true, true};
}

void hold(solver::SheetModel& model, const std::vector<Support>& supports) {
  for (const Support& support : supports) mark(model, support, model.equations);
  number(model.equations);
  model.triangle_equations = solver::triangle_equations(model.blank, model.equations);
}

}  // namespace halftool::test
