#include "mesh/facet_repair.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <sstream>
#include <utility>

#include "mesh/edge_uses.hpp"
#include "mesh/weld.hpp"

namespace halftool::mesh {
namespace {

constexpr int most_passes = 30;

/// How often something was mended, and where first.
struct Repair {
  int count = 0;
  Eigen::Vector3d first = Eigen::Vector3d::Zero();

  void at(const Eigen::Vector3d& place) {
    if (count == 0) first = place;
    ++count;
  }
  void note(std::vector<std::string>& notes, const std::string& one, const std::string& several) const {
    if (count == 0) return;
    std::ostringstream text;
    text << "repaired: " << count << ' ' << (count == 1 ? one : several) << ", the first at (" << first.x()
         << ", " << first.y() << ", " << first.z() << ") mm";
    notes.push_back(text.str());
  }
};

Eigen::Vector3d node(const SurfaceMesh& mesh, int number) {
  return mesh.nodes.row(number);
}

void merge_corners(SurfaceMesh& mesh, double tolerance, std::vector<std::string>& notes) {
  const std::vector<int> same = find_same_nodes(mesh.nodes, tolerance, {});
  Repair moved;  // corners that lie at the very same place are the form of the file, no fault
  for (std::size_t i = 0; i < same.size(); ++i) {
    const auto from = static_cast<Eigen::Index>(i);
    if (mesh.nodes.row(from) != mesh.nodes.row(same[i])) moved.at(mesh.nodes.row(from));
  }
  std::ostringstream what;
  what << " merged with one within " << tolerance << " mm";
  moved.note(notes, "corner" + what.str(), "corners" + what.str());
  merge_nodes(mesh, same);
}

/// Height over the longest side, and the corner that faces it.
std::pair<double, int> least_height(const SurfaceMesh& mesh, int t) {
  double longest = 0;
  int facing = 0;
  for (int i = 0; i < 3; ++i) {
    const double length =
        (node(mesh, mesh.triangles(t, (i + 1) % 3)) - node(mesh, mesh.triangles(t, (i + 2) % 3))).norm();
    if (length <= longest) continue;
    longest = length;
    facing = i;
  }
  const Eigen::Vector3d a = node(mesh, mesh.triangles(t, 0));
  const double doubled =
      (node(mesh, mesh.triangles(t, 1)) - a).cross(node(mesh, mesh.triangles(t, 2)) - a).norm();
  return {longest > 0 ? doubled / longest : 0, facing};
}

int corner_facing(const SurfaceMesh& mesh, int t, int a, int b) {
  for (int i = 0; i < 3; ++i) {
    if (mesh.triangles(t, i) != a && mesh.triangles(t, i) != b) return i;
  }
  return -1;
}

/// Drops a facet without area, `flat`; its neighbour across the longest side, if there is one, is split at
/// the middle corner: the two halves take the places of both.
void drop_flat(SurfaceMesh& mesh, int flat, int facing, int neighbour, std::vector<bool>& kept) {
  const int middle = mesh.triangles(flat, facing);
  const int a = mesh.triangles(flat, (facing + 1) % 3);
  const int b = mesh.triangles(flat, (facing + 2) % 3);
  const int apex = neighbour < 0 ? -1 : corner_facing(mesh, neighbour, a, b);
  if (apex < 0 || mesh.triangles(neighbour, apex) == middle) {
    kept[static_cast<std::size_t>(flat)] = false;
    return;
  }
  const int top = mesh.triangles(neighbour, apex);
  const int tail = mesh.triangles(neighbour, (apex + 1) % 3);
  const int head = mesh.triangles(neighbour, (apex + 2) % 3);
  mesh.triangles.row(flat) << tail, middle, top;
  mesh.triangles.row(neighbour) << middle, head, top;
}

void drop_flat_facets(SurfaceMesh& mesh, double tolerance, Repair& repair) {
  for (int pass = 0; pass < most_passes; ++pass) {
    const auto n = static_cast<std::size_t>(mesh.n_triangles());
    std::vector<bool> kept(n, true), touched(n, false);
    EdgeUses uses;
    bool changed = false;
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      const auto nodes = mesh.triangles.row(t);
      const auto [height, facing] = least_height(mesh, t);
      if (touched[static_cast<std::size_t>(t)] || height > tolerance) continue;
      changed = true;
      const bool collapsed = nodes(0) == nodes(1) || nodes(1) == nodes(2) || nodes(2) == nodes(0);
      repair.at(node(mesh, nodes(facing)));
      if (collapsed) {
        kept[static_cast<std::size_t>(t)] = false;
        continue;
      }
      if (uses.empty()) uses = find_edge_uses(mesh);
      const auto& sharing = uses.at(std::minmax(nodes((facing + 1) % 3), nodes((facing + 2) % 3)));
      const auto other = std::find_if(sharing.begin(), sharing.end(), [&](int u) { return u != t; });
      const int neighbour = other == sharing.end() ? -1 : *other;
      if (neighbour >= 0 && touched[static_cast<std::size_t>(neighbour)]) {
        --repair.count;  // comes again in the next pass
        continue;
      }
      drop_flat(mesh, t, facing, neighbour, kept);
      touched[static_cast<std::size_t>(t)] = true;
      if (neighbour >= 0) touched[static_cast<std::size_t>(neighbour)] = true;
    }
    if (!changed) return;
    keep_triangles(mesh, kept);
  }
}

void drop_doubles(SurfaceMesh& mesh, Repair& repair) {
  std::set<std::array<int, 3>> known;
  std::vector<bool> kept(static_cast<std::size_t>(mesh.n_triangles()), true);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    std::array<int, 3> key{mesh.triangles(t, 0), mesh.triangles(t, 1), mesh.triangles(t, 2)};
    std::sort(key.begin(), key.end());
    if (known.insert(key).second) continue;
    kept[static_cast<std::size_t>(t)] = false;
    repair.at(node(mesh, key[0]));
  }
  if (repair.count > 0) keep_triangles(mesh, kept);
}

std::vector<bool> border_nodes(const SurfaceMesh& mesh, const EdgeUses& uses) {
  std::vector<bool> at_border(static_cast<std::size_t>(mesh.n_nodes()), false);
  for (const auto& [nodes, facets] : uses) {
    if (facets.size() != 1) continue;
    at_border[static_cast<std::size_t>(nodes.first)] = true;
    at_border[static_cast<std::size_t>(nodes.second)] = true;
  }
  return at_border;
}

void close_gaps(SurfaceMesh& mesh, double tolerance, Repair& repair) {
  const EdgeUses uses = find_edge_uses(mesh);
  const std::vector<bool> at_border = border_nodes(mesh, uses);
  if (std::find(at_border.begin(), at_border.end(), true) == at_border.end()) return;
  std::vector<double> shortest(at_border.size(), 1e300);
  for (const auto& [nodes, facets] : uses) {
    const double length = (node(mesh, nodes.first) - node(mesh, nodes.second)).norm();
    for (const int end : {nodes.first, nodes.second}) {
      shortest[static_cast<std::size_t>(end)] = std::min(shortest[static_cast<std::size_t>(end)], length);
    }
  }
  std::vector<bool> taking_part = at_border;
  for (std::size_t i = 0; i < at_border.size(); ++i) {
    taking_part[i] = at_border[i] && tolerance <= 0.25 * shortest[i];
  }
  const std::vector<int> same = find_same_nodes(mesh.nodes, tolerance, taking_part);
  for (std::size_t i = 0; i < same.size(); ++i) {
    if (same[i] != static_cast<int>(i)) repair.at(mesh.nodes.row(static_cast<Eigen::Index>(i)));
  }
  merge_nodes(mesh, same);
}

/// A node that lies on a border edge between its ends, by the distance from the first end.
using OnEdge = std::vector<std::pair<double, int>>;

OnEdge nodes_on(const SurfaceMesh& mesh, int a, int b, const std::vector<std::pair<double, int>>& by_x,
                double tolerance) {
  const Eigen::Vector3d from = node(mesh, a);
  const Eigen::Vector3d chord = node(mesh, b) - from;
  const double length = chord.norm();
  const double low = std::min(from.x(), from.x() + chord.x()) - tolerance;
  const double high = std::max(from.x(), from.x() + chord.x()) + tolerance;
  OnEdge found;
  for (auto at = std::lower_bound(by_x.begin(), by_x.end(), std::pair(low, -1));
       at != by_x.end() && at->first <= high; ++at) {
    if (at->second == a || at->second == b) continue;
    const Eigen::Vector3d away = node(mesh, at->second) - from;
    const double along = away.dot(chord) / length;
    if (along <= 2 * tolerance || along >= length - 2 * tolerance) continue;
    if ((away - along / length * chord).norm() <= tolerance) found.emplace_back(along, at->second);
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// Splits a facet at nodes on its side from corner i to the next.
void split_side(SurfaceMesh& mesh, int t, int i, const OnEdge& middle) {
  const int top = mesh.triangles(t, (i + 2) % 3);
  const int last = mesh.triangles(t, (i + 1) % 3);
  int tail = mesh.triangles(t, i);
  Eigen::Index row = mesh.triangles.rows();
  mesh.triangles.conservativeResize(row + static_cast<Eigen::Index>(middle.size()), 3);
  for (const auto& [along, between] : middle) {
    mesh.triangles.row(row++) << tail, between, top;
    tail = between;
  }
  mesh.triangles.row(t) << tail, last, top;
}

void close_t_joints(SurfaceMesh& mesh, double tolerance, Repair& repair) {
  for (int pass = 0; pass < most_passes; ++pass) {
    const EdgeUses uses = find_edge_uses(mesh);
    const std::vector<bool> at_border = border_nodes(mesh, uses);
    std::vector<std::pair<double, int>> by_x;
    for (int i = 0; i < mesh.n_nodes(); ++i) {
      if (at_border[static_cast<std::size_t>(i)]) by_x.emplace_back(mesh.nodes(i, 0), i);
    }
    std::sort(by_x.begin(), by_x.end());
    std::set<int> split;
    for (const auto& [nodes, facets] : uses) {
      if (facets.size() != 1 || split.contains(facets[0])) continue;
      const int i = (corner_facing(mesh, facets[0], nodes.first, nodes.second) + 1) % 3;
      const OnEdge middle = nodes_on(mesh, mesh.triangles(facets[0], i),
                                     mesh.triangles(facets[0], (i + 1) % 3), by_x, tolerance);
      if (middle.empty()) continue;
      repair.at(node(mesh, middle.front().second));
      split_side(mesh, facets[0], i, middle);
      split.insert(facets[0]);
    }
    if (split.empty()) return;
  }
}

}  // namespace

double extent_of(const SurfaceMesh& mesh) {
  if (mesh.n_nodes() == 0) return 0;
  return (mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff()).norm();
}

void repair_facets(SurfaceMesh& mesh, std::vector<std::string>& notes) {
  const double extent = extent_of(mesh);
  const double weld = weld_share * extent;
  if (extent > 0) merge_corners(mesh, weld, notes);
  bool has_area = false;
  for (int t = 0; t < mesh.n_triangles(); ++t) has_area = has_area || least_height(mesh, t).first > weld;
  if (!has_area) throw MeshError("no facet of the STL file has an area; export the tool half again");
  Repair flat, doubled, gaps, joints;
  drop_flat_facets(mesh, weld, flat);
  drop_doubles(mesh, doubled);
  close_gaps(mesh, gap_share * extent, gaps);
  close_t_joints(mesh, gap_share * extent, joints);
  drop_flat_facets(mesh, weld, flat);
  flat.note(notes, "facet without area dropped", "facets without area dropped");
  doubled.note(notes, "facet given twice dropped", "facets given twice dropped");
  gaps.note(notes, "corner of an open seam merged", "corners of open seams merged");
  joints.note(notes, "facet split at a corner on its side", "facets split at a corner on their side");
}

}  // namespace halftool::mesh
