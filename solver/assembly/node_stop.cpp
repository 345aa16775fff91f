#include "solver/assembly/node_stop.hpp"

namespace halftool::solver {
namespace {

// Nodes of plain bends dip by up to 0.2 % of the thickness, those of tight double bends by 1 %: the share is
// for flat ground, what curves adds the chord's rise (h^2/24 of an edge h, twice that with the area at hand).
constexpr double kDip = 0.002;           // of the thickness
constexpr double kChordRise = 1.0 / 12;  // of curvature times the area of a node

// What surrounds a node in the accepted state.
struct Surroundings {
  int triangle = -1;  // one of those around it, through which its force enters the sum
  int corner = 0;     // that it is there
  int triangles = 0;
  bool touching = true;  // all of them
  double area = 0;       // [mm2]
  double thickness = 0;  // summed, then mean [mm]
};

struct Push {
  double depth = 0;  // beyond what is allowed [mm]; 0: none
  Eigen::Vector3d normal;
  Eigen::Matrix3d normal_gradient;
};

std::vector<Surroundings> surroundings_of_nodes(const SheetModel& model, const SheetState& state) {
  std::vector<Surroundings> nodes(model.blank.mesh.n_nodes());
  for (int t = 0; t < model.n_triangles(); ++t)
    for (int corner = 0; corner < 3; ++corner) {
      Surroundings& node = nodes[model.blank.mesh.triangles(t, corner)];
      node.triangle = t;
      node.corner = corner;
      node.triangles += 1;
      node.touching = node.touching && state.memory[t].friction.touching;
      node.area += state.memory[t].area / 3;
      node.thickness += state.memory[t].thickness;
    }
  for (Surroundings& node : nodes) node.thickness /= std::max(1, node.triangles);
  return nodes;
}

Push push_on(const Surroundings& node, const Eigen::Vector3d& accepted, const Eigen::Vector3d& trial,
             const mesh::ToolSurface& tool) {
  const double half = 0.5 * node.thickness;
  const auto at = tool.nearest(trial, half + kReach);
  if (!at) return {};
  const double dip = half - at->gap - kDip * node.thickness;
  if (dip <= 0) return {};
  const auto before = tool.nearest(accepted, half + kReach);
  const double curvature = before ? before->normal_gradient.norm() : 0;
  const double depth = dip - kChordRise * curvature * node.area;
  return {std::max(0.0, depth), at->normal, at->normal_gradient};
}

void add(const SheetModel& model, const SparsityPattern& pattern, const Surroundings& node, const Push& push,
         double contact_stiffness, bool want_stiffness, Balance& sum) {
  const double stiffness = contact_stiffness * node.area;
  const Eigen::Vector3d force = stiffness * push.depth * push.normal;
  const int first = 3 * node.corner;
  for (int c = 0; c < 3; ++c) {
    const int equation = model.triangle_equations(node.triangle, first + c);
    if (equation >= 0)
      sum.out_of_balance(equation) -= force(c);
    else
      sum.held_resultant(c) -= force(c);
  }
  sum.tool_resultant += force;
  if (!want_stiffness) return;
  TriangleMatrix matrix = TriangleMatrix::Zero();
  matrix.block<3, 3>(first, first) =
      stiffness * (push.normal * push.normal.transpose() - push.depth * push.normal_gradient);
  pattern.scatter(node.triangle, matrix, sum.stiffness);
}

}  // namespace

void add_node_stops(const SheetModel& model, const SparsityPattern& pattern, const SheetState& committed,
                    const SheetPlace& trial, const Loading& loading, bool want_stiffness, int threads,
                    Balance& sum) {
  const std::vector<Surroundings> nodes = surroundings_of_nodes(model, committed);
  const int n = static_cast<int>(nodes.size());
  std::vector<Push> pushes(n);
#pragma omp parallel for num_threads(threads) schedule(static)
  for (int i = 0; i < n; ++i)
    if (nodes[i].touching)
      pushes[i] = push_on(nodes[i], committed.place.positions.row(i).transpose(),
                          trial.positions.row(i).transpose(), *loading.tool);
  for (int i = 0; i < n; ++i)
    if (pushes[i].depth > 0)
      add(model, pattern, nodes[i], pushes[i], loading.contact.stiffness, want_stiffness, sum);
}

}  // namespace halftool::solver
