#include "solver/assessment/flange_edges.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace halftool::solver {
namespace {

using Eigen::Vector3d;

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kLeastFold = 20 * kDegree;
constexpr double kMostSlant = 45 * kDegree;   // of an edge against the fold
constexpr double kMostCorner = 30 * kDegree;  // between two edges of a smooth border
constexpr int kLeastNodes = 8;

/// One border of the sheet, edge by edge as its triangles walk it.
struct Border {
  std::vector<int> edges;
  std::vector<int> nodes;  ///< where each edge starts
};

struct Walk {
  int from = -1, to = -1, triangle = -1;
};

Walk walk_of(const mesh::Blank& blank, int edge) {
  const int t = blank.edges.triangles(edge, 0);
  int local = 0;
  while (blank.edges.of_triangle(t, local) != edge) ++local;
  return {blank.mesh.triangles(t, (local + 1) % 3), blank.mesh.triangles(t, (local + 2) % 3), t};
}

std::vector<Border> find_borders(const mesh::Blank& blank) {
  std::vector<int> leaving(blank.mesh.n_nodes(), -1);
  for (int e = 0; e < blank.edges.n_edges(); ++e)
    if (blank.edges.is_boundary(e)) leaving[walk_of(blank, e).from] = e;
  std::vector<Border> borders;
  for (int first = 0; first < blank.mesh.n_nodes(); ++first) {
    if (leaving[first] < 0) continue;
    Border border;
    for (int node = first; leaving[node] >= 0;) {
      const int edge = leaving[node];
      border.edges.push_back(edge);
      border.nodes.push_back(node);
      leaving[node] = -1;
      node = walk_of(blank, edge).to;
    }
    borders.push_back(std::move(border));
  }
  return borders;
}

int mirror_of(const mesh::Blank& blank, int edge) {
  const mesh::EdgeKind kind = blank.edge_kind[edge];
  if (kind == mesh::EdgeKind::symmetry_x) return 0;
  return kind == mesh::EdgeKind::symmetry_y ? 1 : -1;
}

bool is_free(const mesh::Blank& blank, int edge) {
  const mesh::EdgeKind kind = blank.edge_kind[edge];
  return kind == mesh::EdgeKind::hole || (kind == mesh::EdgeKind::outer && !blank.rim_held);
}

Vector3d normal_of(const mesh::Blank& blank, const mesh::Points& x, int triangle) {
  const Eigen::RowVector3d a = x.row(blank.mesh.triangles(triangle, 0));
  const Eigen::RowVector3d b = x.row(blank.mesh.triangles(triangle, 1));
  const Eigen::RowVector3d c = x.row(blank.mesh.triangles(triangle, 2));
  return Vector3d(b - a).cross(Vector3d(c - a)).normalized();
}

bool is_folded(const mesh::Blank& blank, const mesh::Points& formed, int edge) {
  return normal_of(blank, formed, blank.edges.triangles(edge, 0)).z() < std::cos(kLeastFold);
}

/// Within the allowed slant against the fold, which is level and lies in the sheet.
bool runs_along_fold(const mesh::Blank& blank, const mesh::Points& formed, int edge) {
  const Walk walk = walk_of(blank, edge);
  const Vector3d fold = normal_of(blank, formed, walk.triangle).cross(Vector3d::UnitZ()).normalized();
  const Vector3d along = (formed.row(walk.to) - formed.row(walk.from)).transpose().normalized();
  return std::abs(along.dot(fold)) > std::cos(kMostSlant);
}

/// Whether the flat border turns sharply where this edge follows the other.
bool is_corner(const mesh::Blank& blank, int before, int edge) {
  const auto direction = [&](int e) {
    const Walk walk = walk_of(blank, e);
    return (blank.mesh.nodes.row(walk.to) - blank.mesh.nodes.row(walk.from)).normalized().eval();
  };
  return direction(before).dot(direction(edge)) < std::cos(kMostCorner);
}

/// Which of a border's edges can carry waves.
std::vector<bool> usable_edges(const mesh::Blank& blank, const mesh::Points& formed, const Border& border) {
  const bool any_folded = std::any_of(border.edges.begin(), border.edges.end(), [&](int e) {
    return is_free(blank, e) && is_folded(blank, formed, e);
  });
  std::vector<bool> usable;
  for (const int e : border.edges)
    usable.push_back(is_free(blank, e) &&
                     (!any_folded || (is_folded(blank, formed, e) && runs_along_fold(blank, formed, e))));
  return usable;
}

/// A run of `count` edges from the one at `first`, round the border if need be.
FlangeEdge run_of(const mesh::Blank& blank, const Border& border, std::size_t first, std::size_t count) {
  const std::size_t n = border.edges.size();
  FlangeEdge run;
  for (std::size_t i = 0; i < count; ++i) run.nodes.push_back(border.nodes[(first + i) % n]);
  run.closed = count == n;
  if (run.closed) return run;
  run.nodes.push_back(border.nodes[(first + count) % n]);
  run.start_mirror = mirror_of(blank, border.edges[(first + n - 1) % n]);
  run.end_mirror = mirror_of(blank, border.edges[(first + count) % n]);
  return run;
}

void add_runs(const mesh::Blank& blank, const mesh::Points& formed, const Border& border,
              std::vector<FlangeEdge>& all) {
  const std::size_t n = border.edges.size();
  const std::vector<bool> usable = usable_edges(blank, formed, border);
  const auto starts = [&](std::size_t i) {
    const std::size_t before = (i + n - 1) % n;
    return usable[i] && (!usable[before] || is_corner(blank, border.edges[before], border.edges[i]));
  };
  std::vector<std::size_t> firsts;
  for (std::size_t i = 0; i < n; ++i)
    if (starts(i)) firsts.push_back(i);
  if (firsts.empty() && usable.front()) all.push_back(run_of(blank, border, 0, n));
  for (const std::size_t first : firsts) {
    std::size_t count = 1;
    while (count < n && usable[(first + count) % n] && !starts((first + count) % n)) ++count;
    all.push_back(run_of(blank, border, first, count));
  }
}

}  // namespace

std::vector<FlangeEdge> find_flange_edges(const mesh::Blank& blank, const mesh::Points& formed) {
  std::vector<FlangeEdge> all;
  for (const Border& border : find_borders(blank)) add_runs(blank, formed, border, all);
  std::erase_if(all, [](const FlangeEdge& edge) { return std::ssize(edge.nodes) < kLeastNodes; });
  return all;
}

}  // namespace halftool::solver
