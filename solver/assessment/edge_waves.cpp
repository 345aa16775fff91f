#include "solver/assessment/edge_waves.hpp"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace halftool::solver {
namespace {

// The tool is the measure where the sheet looks at it within this angle's cosine (41 degrees): less than half
// a right angle, lest it look at wall and floor at once, between which the gap has a crest.
constexpr double kFacing = 0.75;
constexpr double kStrainWindow = 5;  // over the thickness

/// Arc length of a run of nodes on the flat blank, with the way back to the first if it is closed.
Eigen::VectorXd flat_length(const mesh::Points& flat, const FlangeEdge& edge) {
  const auto n = static_cast<int>(edge.nodes.size());
  Eigen::VectorXd along = Eigen::VectorXd::Zero(n + (edge.closed ? 1 : 0));
  for (int i = 1; i < along.size(); ++i)
    along(i) = along(i - 1) + (flat.row(edge.nodes[i % n]) - flat.row(edge.nodes[i - 1])).norm();
  return along;
}

/// The rows of a run with their images beyond the mirror at its start and at its end.
mesh::Points with_images(const mesh::Points& run, const FlangeEdge& edge) {
  const auto image = [&](int axis) {
    mesh::Points points = run.colwise().reverse();
    points.col(axis) *= -1;
    return points;
  };
  const Eigen::Index n = run.rows();
  const Eigen::Index before = edge.start_mirror >= 0 ? n : 0, after = edge.end_mirror >= 0 ? n : 0;
  mesh::Points all(before + n + after, 3);
  if (before) all.topRows(n) = image(edge.start_mirror);
  all.middleRows(before, n) = run;
  if (after) all.bottomRows(n) = image(edge.end_mirror);
  return all;
}

/// Distance of a run from a smooth edge, along smooth normals [mm]. Smooth is what follows from the place on
/// the flat blank, so that any affine change of the outline is. A normal of its own for each node would turn
/// the bow that is left into waves.
Eigen::VectorXd off_smooth_edge(const mesh::Points& flat, const mesh::Points& place,
                                const mesh::Points& normal, const FlangeEdge& edge) {
  const mesh::Points all = with_images(flat, edge);
  Eigen::MatrixXd shapes(all.rows(), 3);
  const double extent = (all.colwise().maxCoeff() - all.colwise().minCoeff()).norm();
  shapes << Eigen::VectorXd::Ones(all.rows()),
      (all.leftCols<2>().rowwise() - all.leftCols<2>().colwise().mean()) / extent;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> smooth(shapes);
  smooth.setThreshold(1e-8);  // a straight edge has fewer shapes
  const auto rows = shapes.middleRows(edge.start_mirror >= 0 ? flat.rows() : 0, flat.rows());
  const mesh::Points off = place - rows * smooth.solve(Eigen::MatrixXd(with_images(place, edge)));
  mesh::Points direction = rows * smooth.solve(Eigen::MatrixXd(with_images(normal, edge)));
  direction.rowwise().normalize();
  return off.cwiseProduct(direction).rowwise().sum();
}

double nan() {
  return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

EdgeTrace::EdgeTrace(const mesh::Blank& blank) : blank_(blank), index_(blank.mesh.n_nodes(), -1) {
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (!blank.edges.is_boundary(e)) continue;
    for (int end = 0; end < 2; ++end) {
      const int node = blank.edges.nodes(e, end);
      if (index_[node] >= 0) continue;
      index_[node] = static_cast<int>(nodes_.size());
      nodes_.push_back(node);
    }
  }
}

void EdgeTrace::add(const SheetFields& fields, const mesh::ToolSurface* tool) {
  if (fields.positions.rows() != blank_.mesh.n_nodes()) return;
  const auto n = static_cast<Eigen::Index>(nodes_.size());
  State state{fields.pressure, mesh::Points(n, 3), mesh::Points::Zero(n, 3),
              Eigen::VectorXd::Constant(n, nan()), Eigen::VectorXd::Zero(n)};
  last_ = fields.positions;
  for (int t = 0; t < blank_.mesh.n_triangles(); ++t) {
    const auto corners = blank_.mesh.triangles.row(t);
    const Eigen::RowVector3d a = last_.row(corners(0));
    const Eigen::Vector3d ab = last_.row(corners(1)) - a, ac = last_.row(corners(2)) - a;
    for (int i = 0; i < 3; ++i)
      if (index_[corners(i)] >= 0) state.normals.row(index_[corners(i)]) += ab.cross(ac).transpose();
  }
  for (Eigen::Index i = 0; i < n; ++i) {
    state.positions.row(i) = last_.row(nodes_[i]);
    state.normals.row(i).normalize();
    if (!tool) continue;
    const auto at =
        tool->nearest(state.positions.row(i).transpose(), std::numeric_limits<double>::infinity());
    if (!at) continue;
    state.gap(i) = at->gap;
    state.facing(i) = at->normal.dot(state.normals.row(i).transpose());
  }
  states_.push_back(std::move(state));
}

// Where the whole edge looks at the tool, its gap to it, taken square to the sheet: the shape of the tool is
// no wave. Elsewhere its distance from a smooth edge.
HeightLine EdgeTrace::line(const State& state, const FlangeEdge& edge) const {
  const auto n = static_cast<Eigen::Index>(edge.nodes.size());
  const Eigen::VectorXd along = flat_length(blank_.mesh.nodes, edge);
  HeightLine line{along.head(n), Eigen::VectorXd(n), edge.closed ? along(n) : 0, edge.start_mirror >= 0,
                  edge.end_mirror >= 0};
  mesh::Points flat(n, 3), place(n, 3), normal(n, 3);
  double facing = 0;
  bool near = true;
  for (Eigen::Index i = 0; i < n; ++i) {
    const int at = index_[edge.nodes[i]];
    flat.row(i) = blank_.mesh.nodes.row(edge.nodes[i]);
    place.row(i) = state.positions.row(at);
    normal.row(i) = state.normals.row(at);
    line.height(i) = state.gap(at);
    facing += state.facing(at) / static_cast<double>(n);
    near = near && std::isfinite(state.gap(at)) && state.facing(at) > kFacing;
  }
  if (near)
    line.height /= facing;
  else
    line.height = off_smooth_edge(flat, place, normal, edge);
  return line;
}

EdgeWaves EdgeTrace::measure(const State& state, const std::vector<FlangeEdge>& edges) const {
  EdgeWaves result;
  result.pressure = state.pressure;
  for (int e = 0; e < std::ssize(edges); ++e)
    for (const Wave& wave : find_waves(line(state, edges[e]), kLeastWave * blank_.thickness)) {
      result.count += 1;
      if (wave.height <= result.height) continue;
      result.height = wave.height;
      result.length = wave.length;
      result.bending_strain = bending_strain(wave, blank_.thickness);
      result.at = state.positions.row(index_[edges[e].nodes[wave.crest]]);
      result.edge = e;
    }
  return result;
}

// Over windows that end at each node: the change of length of the edge within them.
void EdgeTrace::add_strain(const FlangeEdge& edge, EdgeWaveHistory& history) const {
  const Eigen::VectorXd flat = flat_length(blank_.mesh.nodes, edge);
  const Eigen::VectorXd formed = flat_length(last_, edge);
  for (Eigen::Index i = 0, from = 0; i < flat.size(); ++i) {
    if (flat(i) < kStrainWindow * blank_.thickness) continue;
    while (flat(i) - flat(from + 1) >= kStrainWindow * blank_.thickness) ++from;
    const double strain = std::log((formed(i) - formed(from)) / (flat(i) - flat(from)));
    history.least_strain = std::fmin(history.least_strain, strain);
    history.largest_strain = std::fmax(history.largest_strain, strain);
  }
}

EdgeWaveHistory EdgeTrace::history() const {
  EdgeWaveHistory history;
  if (states_.empty()) return history;
  const std::vector<FlangeEdge> edges = find_flange_edges(blank_, last_);
  for (const State& state : states_) {
    const EdgeWaves waves = measure(state, edges);
    if (waves.height > history.highest.height) history.highest = waves;
  }
  history.left = measure(states_.back(), edges);
  if (history.highest.edge >= 0) add_strain(edges[history.highest.edge], history);
  return history;
}

}  // namespace halftool::solver
