#include "solver/stepping/impasse.hpp"

#include <limits>
#include <optional>
#include <sstream>

namespace halftool::solver {
namespace {

constexpr double kTouch = 1e-3;  // of the thickness: a gap that counts as none

struct WorstNode {
  int node = -1;
  double force = 0;  // [N]
};

WorstNode worst_node(const Equations& equations, const Eigen::VectorXd& out_of_balance) {
  WorstNode worst;
  if (out_of_balance.size() != equations.count) return worst;
  for (Eigen::Index node = 0; node < equations.of_node.rows(); ++node) {
    Eigen::Vector3d force = Eigen::Vector3d::Zero();
    for (int c = 0; c < 3; ++c)
      if (const int eq = equations.of_node(node, c); eq >= 0) force(c) = out_of_balance(eq);
    if (force.norm() > worst.force) worst = {static_cast<int>(node), force.norm()};
  }
  return worst;
}

// Between the tool face of a triangle and the tool [mm]; nothing beyond the tool's border.
std::optional<double> gap(const SheetState& state, const mesh::ToolSurface& tool, int triangle) {
  const TriangleMemory& memory = state.memory[triangle];
  const auto at = tool.nearest(memory.middle, std::numeric_limits<double>::infinity());
  if (!at) return std::nullopt;
  return at->gap - 0.5 * memory.thickness;
}

// Of the triangles at a node, the one nearest to the tool; the first without a tool.
int triangle_at(const SheetModel& model, const SheetState& state, int node, const mesh::ToolSurface* tool) {
  int found = -1;
  double nearest = std::numeric_limits<double>::infinity();
  for (int t = 0; t < model.n_triangles(); ++t) {
    if (!(model.blank.mesh.triangles.row(t).array() == node).any()) continue;
    if (found < 0) found = t;
    const std::optional<double> here = tool ? gap(state, *tool, t) : std::nullopt;
    if (!here || *here >= nearest) continue;
    nearest = *here;
    found = t;
  }
  return found;
}

std::string touch(const SheetState& state, const mesh::ToolSurface* tool, int triangle) {
  if (!tool) return "";
  const std::optional<double> here = gap(state, *tool, triangle);
  if (!here) return ", which lies beyond the border of the tool";
  if (*here <= kTouch * state.memory[triangle].thickness) return ", which touches the tool";
  std::ostringstream text;
  text << ", which stands " << *here << " mm off the tool";
  return text.str();
}

std::string point(const Eigen::Vector3d& x) {
  std::ostringstream text;
  text << '(' << x.x() << ", " << x.y() << ", " << x.z() << ") mm";
  return text.str();
}

}  // namespace

std::string place_of_impasse(const SheetModel& model, const SheetState& committed,
                             const IncrementResult& result, const mesh::ToolSurface* tool) {
  std::ostringstream text;
  if (const int failed = result.balance.failed_triangle; failed >= 0) {
    text << "; it did so in triangle " << failed << " at " << point(committed.memory[failed].middle)
         << touch(committed, tool, failed);
    return text.str();
  }
  const WorstNode worst = worst_node(model.equations, result.balance.out_of_balance);
  if (worst.node < 0) return "";
  const int triangle = triangle_at(model, committed, worst.node, tool);
  text << "; the largest out-of-balance force, " << worst.force << " N, is at node " << worst.node << ", "
       << point(committed.place.positions.row(worst.node).transpose()) << ", of triangle " << triangle
       << touch(committed, tool, triangle);
  return text.str();
}

}  // namespace halftool::solver
