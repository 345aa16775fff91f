#include "tests/support/supports.hpp"

#include <cmath>

namespace halftool::test {
namespace {

constexpr int kHeld = -1;
constexpr double kClose = 1e-9;  // of two places, over the size of the sheet of order 1 to 1000

std::function<bool(const Eigen::Vector3d&)> plane_at(int axis, double place) {
  return
      [axis, place](const Eigen::Vector3d& x) { return std::abs(x(axis) - place) < kClose * (1 + x.norm()); };
}

void mark(const mesh::Blank& blank, const Support& support, solver::Equations& equations) {
  const auto chosen = [&](int node) { return support.where(blank.mesh.nodes.row(node).transpose()); };
  for (int node = 0; node < blank.mesh.n_nodes(); ++node)
    for (int c = 0; c < 3; ++c)
      if (support.motion(c) && chosen(node)) equations.of_node(node, c) = kHeld;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (!blank.edges.is_boundary(e) || !chosen(blank.edges.nodes(e, 0)) || !chosen(blank.edges.nodes(e, 1)))
      continue;
    if (support.turn) equations.turn(e) = kHeld;
    if (support.bow) equations.bow(e) = kHeld;
  }
}

void renumber(solver::Equations& equations) {
  equations.count = 0;
  const auto number = [&](int& equation) {
    if (equation != kHeld) equation = equations.count++;
  };
  for (Eigen::Index node = 0; node < equations.of_node.rows(); ++node)
    for (int c = 0; c < 3; ++c) number(equations.of_node(node, c));
  for (Eigen::Index e = 0; e < equations.turn.size(); ++e) {
    number(equations.turn(e));
    number(equations.bow(e));
  }
}

}  // namespace

Support symmetry_plane(int axis) {
  Support support{plane_at(axis, 0), {false, false, false}, true, true};
  support.motion(axis) = true;
  return support;
}

Support diaphragm(int axis, double place) {
  Support support{plane_at(axis, place), {true, true, true}, false, false};
  support.motion(axis) = false;
  return support;
}

Support clamp(const std::function<bool(const Eigen::Vector3d&)>& where) {
  return {.where = where, .motion = {true, true, true}, .turn = true, .bow = true};
}

Support hinge(const std::function<bool(const Eigen::Vector3d&)>& where) {
  return {where, {true, true, true}, false, true};
}

Support guide(const std::function<bool(const Eigen::Vector3d&)>& where, int axis) {
  Support support{where, {false, false, false}, false, false};
  support.motion(axis) = true;
  return support;
}

void hold(solver::SheetModel& model, const std::vector<Support>& supports) {
  for (const Support& support : supports) mark(model.blank, support, model.equations);
  renumber(model.equations);
  model.triangle_equations = solver::triangle_equations(model.blank, model.equations);
}

}  // namespace halftool::test
