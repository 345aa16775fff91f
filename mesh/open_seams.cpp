#include "mesh/open_seams.hpp"

#include <algorithm>
#include <limits>
#include <sstream>

#include "mesh/facet_repair.hpp"
#include "mesh/holes.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
constexpr double most_of_it = 0.6;  // where banks end, cross or are joined, edges have none beside them
constexpr double share_of_edge = 0.25;
constexpr std::size_t looked_at = 200;

Vector3d node(const SurfaceMesh& mesh, int number) {
  return mesh.nodes.row(number);
}

double distance_to(const Vector3d& a, const Vector3d& b, const Vector3d& x) {
  const Vector3d chord = b - a;
  const double along = std::clamp((x - a).dot(chord) / chord.squaredNorm(), 0.0, 1.0);
  return (x - a - along * chord).norm();
}

}  // namespace

BorderEdges find_border(const EdgeUses& uses, const std::vector<bool>& chosen) {
  BorderEdges border;
  for (const auto& [nodes, facets] : uses) {
    if (facets.size() == 1 && (chosen.empty() || chosen[static_cast<std::size_t>(facets[0])]))
      border.push_back(nodes);
  }
  return border;
}

std::optional<OpenSeam> find_open_seam(const SurfaceMesh& mesh, const EdgeUses& uses,
                                       const BorderEdges& border) {
  const BorderEdges all = find_border(uses);
  const double most = filled_share * extent_of(mesh);
  const std::size_t step = 1 + border.size() / looked_at;
  std::vector<std::pair<double, Vector3d>> banks;
  double length = 0, length_beside = 0;
  for (std::size_t k = 0; k < border.size(); k += step) {
    const std::pair<int, int> edge = std::minmax(border[k].first, border[k].second);
    const Vector3d a = node(mesh, edge.first), b = node(mesh, edge.second);
    double nearest = std::numeric_limits<double>::infinity();
    double width = 0;
    for (const auto& other : all) {
      if (other == edge) continue;
      const Vector3d c = node(mesh, other.first), d = node(mesh, other.second);
      const double distance = distance_to(c, d, 0.5 * (a + b));
      if (distance >= nearest) continue;
      nearest = distance;
      width = std::max(distance_to(c, d, a), distance_to(c, d, b));
    }
    length += (b - a).norm();
    if (nearest > std::min(most, share_of_edge * (b - a).norm())) continue;
    length_beside += (b - a).norm();
    banks.emplace_back(width, 0.5 * (a + b));
  }
  if (banks.empty() || length_beside < most_of_it * length) return std::nullopt;
  const auto middle = banks.begin() + static_cast<std::ptrdiff_t>(banks.size() / 2);
  std::nth_element(banks.begin(), middle, banks.end(),
                   [](const auto& x, const auto& y) { return x.first < y.first; });
  return OpenSeam{middle->first, middle->second};
}

std::string describe(const OpenSeam& seam, double extent) {
  std::ostringstream text;
  text.precision(3);
  text << "an open seam about " << seam.width << " mm wide, at (" << seam.at.x() << ", " << seam.at.y()
       << ", " << seam.at.z() << ") mm for one place; seams up to " << gap_share * extent
       << " mm are closed here: join the faces in the CAD model to one closed surface and export it again";
  return text.str();
}

void refuse_branching_seam(const SurfaceMesh& mesh) {
  const EdgeUses uses = find_edge_uses(mesh);
  if (std::none_of(uses.begin(), uses.end(), [](const auto& use) { return use.second.size() > 2; })) return;
  if (const auto seam = find_open_seam(mesh, uses, find_border(uses)))
    throw MeshError("the tool's surface has " + describe(*seam, extent_of(mesh)));
}

}  // namespace halftool::mesh
