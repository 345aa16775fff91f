#include "mesh/holes.hpp"

#include <algorithm>
#include <map>
#include <sstream>

#include "mesh/edge_uses.hpp"
#include "mesh/facet_repair.hpp"
#include "mesh/open_seams.hpp"

namespace halftool::mesh {
namespace {

constexpr double level_share =
    1e-3;  // of the extent: an opening's border this near the lowest point lies there
constexpr double rim_share = 0.99;  // of a piece's box, seen along z, that its outer rim spans at least

/// A closed way of border edges.
struct Loop {
  std::vector<int> nodes;  ///< in order
  int facet = -1;          ///< one of those at the border
  Eigen::Vector3d low, high;

  [[nodiscard]] double size() const { return (high - low).norm(); }
  [[nodiscard]] Eigen::Vector3d middle() const { return 0.5 * (low + high); }
};

BorderEdges edges_of(const Loop& loop) {
  BorderEdges edges;
  for (std::size_t i = 0; i < loop.nodes.size(); ++i)
    edges.emplace_back(loop.nodes[i], loop.nodes[(i + 1) % loop.nodes.size()]);
  return edges;
}

void measure(Loop& loop, const SurfaceMesh& mesh) {
  loop.low = loop.high = mesh.nodes.row(loop.nodes.front());
  for (const int node : loop.nodes) {
    loop.low = loop.low.cwiseMin(mesh.nodes.row(node).transpose());
    loop.high = loop.high.cwiseMax(mesh.nodes.row(node).transpose());
  }
}

/// Border edges at each node, as (other node, facet).
using EdgesAtNode = std::map<int, std::vector<std::pair<int, int>>>;

void take(EdgesAtNode& edges, int from, int to) {
  auto& list = edges[from];
  list.erase(std::find_if(list.begin(), list.end(), [&](const auto& edge) { return edge.first == to; }));
}

std::vector<Loop> border_loops(const SurfaceMesh& mesh, const EdgeUses& uses) {
  EdgesAtNode edges;
  for (const auto& [nodes, facets] : uses) {
    if (facets.size() != 1) continue;
    edges[nodes.first].emplace_back(nodes.second, facets[0]);
    edges[nodes.second].emplace_back(nodes.first, facets[0]);
  }
  std::vector<Loop> loops;
  for (auto& [first, unused] : edges) {
    while (!unused.empty()) {
      Loop loop;
      loop.facet = unused.front().second;
      int at = first;
      do {  // every node has an even number of border edges, so the way comes back
        loop.nodes.push_back(at);
        const int next = edges[at].front().first;
        take(edges, at, next);
        take(edges, next, at);
        at = next;
      } while (at != first && !edges[at].empty());
      measure(loop, mesh);
      loops.push_back(std::move(loop));
    }
  }
  return loops;
}

void fill(SurfaceMesh& mesh, const Loop& loop) {
  const auto n = static_cast<Eigen::Index>(loop.nodes.size());
  const Eigen::Index row = mesh.triangles.rows();
  if (n == 3) {
    mesh.triangles.conservativeResize(row + 1, 3);
    mesh.triangles.row(row) << loop.nodes[0], loop.nodes[1], loop.nodes[2];
    return;
  }
  Eigen::RowVector3d centre = Eigen::RowVector3d::Zero();
  for (const int node : loop.nodes) centre += mesh.nodes.row(node) / static_cast<double>(n);
  const auto hub = static_cast<int>(mesh.nodes.rows());
  mesh.nodes.conservativeResize(hub + 1, 3);
  mesh.nodes.row(hub) = centre;
  mesh.triangles.conservativeResize(row + n, 3);
  for (Eigen::Index i = 0; i < n; ++i) {
    mesh.triangles.row(row + i) << loop.nodes[static_cast<std::size_t>(i)],
        loop.nodes[static_cast<std::size_t>((i + 1) % n)], hub;
  }
}

/// Box of each piece seen along z: low x, low y, high x, high y.
std::vector<Eigen::Vector4d> boxes_along_z(const SurfaceMesh& mesh, const std::vector<int>& piece_of) {
  const int n = *std::max_element(piece_of.begin(), piece_of.end()) + 1;
  std::vector<Eigen::Vector4d> boxes(static_cast<std::size_t>(n),
                                     Eigen::Vector4d(1e300, 1e300, -1e300, -1e300));
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    auto& box = boxes[static_cast<std::size_t>(piece_of[static_cast<std::size_t>(t)])];
    for (int i = 0; i < 3; ++i) {
      const Eigen::Vector2d x = mesh.nodes.row(mesh.triangles(t, i)).head<2>();
      box.head<2>() = box.head<2>().cwiseMin(x);
      box.tail<2>() = box.tail<2>().cwiseMax(x);
    }
  }
  return boxes;
}

bool is_rim(const Loop& loop, const Eigen::Vector4d& box) {
  const Eigen::Vector2d spans = (loop.high - loop.low).head<2>();
  return ((box.tail<2>() - box.head<2>()) * rim_share - spans).maxCoeff() <= 0;
}

}  // namespace

void fill_small_holes(SurfaceMesh& mesh, std::vector<std::string>& notes) {
  const double largest = filled_share * extent_of(mesh);
  int count = 0;
  Eigen::Vector3d first = Eigen::Vector3d::Zero();
  for (const Loop& loop : border_loops(mesh, find_edge_uses(mesh))) {
    if (loop.nodes.size() < 3 || loop.size() > largest) continue;
    if (count++ == 0) first = loop.middle();
    fill(mesh, loop);
  }
  if (count == 0) return;
  std::ostringstream text;
  text << "repaired: " << count << " hole" << (count == 1 ? "" : "s") << " of at most " << largest
       << " mm filled, the first about (" << first.x() << ", " << first.y() << ", " << first.z() << ") mm";
  notes.push_back(text.str());
}

void refuse_holes(const SurfaceMesh& mesh, bool tray_floor) {
  const EdgeUses uses = find_edge_uses(mesh);
  const std::vector<int> piece_of = find_pieces(mesh, uses);
  const auto boxes = boxes_along_z(mesh, piece_of);
  const double extent = extent_of(mesh);
  const double lowest = mesh.nodes.col(2).minCoeff() + level_share * extent;
  std::vector<Loop> holes;
  for (const Loop& loop : border_loops(mesh, uses)) {
    const bool under = tray_floor && loop.high.z() <= lowest;
    const auto piece = static_cast<std::size_t>(piece_of[static_cast<std::size_t>(loop.facet)]);
    if (!under && !is_rim(loop, boxes[piece])) holes.push_back(loop);
  }
  if (holes.empty()) return;
  const auto worst = std::max_element(holes.begin(), holes.end(),
                                      [](const Loop& a, const Loop& b) { return a.size() < b.size(); });
  if (const auto seam = find_open_seam(mesh, uses, edges_of(*worst)))
    throw MeshError("the tool's surface has " + describe(*seam, extent));
  std::ostringstream text;
  const Eigen::Vector3d at = worst->middle();
  text << "the tool's surface has " << holes.size() << " hole" << (holes.size() == 1 ? "" : "s")
       << " too large to be filled (" << filled_share * extent << " mm at most); the largest, "
       << worst->size() << " mm across, lies about (" << at.x() << ", " << at.y() << ", " << at.z()
       << ") mm: close it in the CAD model and export it again";
  throw MeshError(text.str());
}

}  // namespace halftool::mesh
