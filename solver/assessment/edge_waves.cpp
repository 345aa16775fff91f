#include "solver/assessment/edge_waves.hpp"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace halftool::solver {
namespace {

// The tool is the measure where the sheet looks at it within this angle's cosine (60 degrees).
constexpr double kFacing = 0.5;
constexpr double kStrainWindow = 5;  // over the thickness

/// Arc length of a run of nodes on the flat blank, with the way back to the first if it is closed.
Eigen::VectorXd flat_length(const mesh::Points& flat, const FlangeEdge& edge) {
  const auto n = static_cast<int>(edge.nodes.size());
  Eigen::VectorXd along = Eigen::VectorXd::Zero(n + (edge.closed ? 1 : 0));
  for (int i = 1; i < along.size(); ++i)
    along(i) = along(i - 1) + (flat.row(edge.nodes[i % n]) - flat.row(edge.nodes[i - 1])).norm();
  return along;
}

/// Columns that a smooth edge follows from: the place on the flat blank, so that any affine change of the
/// outline is smooth, and on an edge with ends the arc length.
Eigen::MatrixXd smooth_shapes(const mesh::Points& flat, const FlangeEdge& edge,
                              const Eigen::VectorXd& along) {
  const auto n = static_cast<Eigen::Index>(edge.nodes.size());
  Eigen::MatrixXd shapes(n, edge.closed ? 3 : 4);
  const double length = along(along.size() - 1);
  const Eigen::RowVector3d middle = flat.row(edge.nodes[edge.nodes.size() / 2]);
  for (Eigen::Index i = 0; i < n; ++i) {
    shapes(i, 0) = 1;
    shapes.row(i).segment<2>(1) = (flat.row(edge.nodes[i]) - middle).head<2>() / length;
    if (!edge.closed) shapes(i, 3) = along(i) / length;
  }
  return shapes;
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
  HeightLine line{along.head(n), Eigen::VectorXd(n), edge.closed ? along(n) : 0, edge.starts_on_mirror,
                  edge.ends_on_mirror};
  mesh::Points x(n, 3), normal(n, 3);
  double facing = 0;
  bool near = true;
  for (Eigen::Index i = 0; i < n; ++i) {
    const int at = index_[edge.nodes[i]];
    x.row(i) = state.positions.row(at);
    normal.row(i) = state.normals.row(at);
    line.height(i) = state.gap(at);
    facing += state.facing(at) / static_cast<double>(n);
    near = near && std::isfinite(state.gap(at)) && state.facing(at) > kFacing;
  }
  if (near) {
    line.height /= facing;
    return line;
  }
  const Eigen::MatrixXd shapes = smooth_shapes(blank_.mesh.nodes, edge, along);
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> smooth(shapes);
  smooth.setThreshold(1e-8);  // a straight edge has fewer shapes
  const mesh::Points off = x - shapes * smooth.solve(Eigen::MatrixXd(x));
  line.height = off.cwiseProduct(normal).rowwise().sum();
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
