#include "mesh/screens/walls.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

constexpr double round_enough = 0.05;  // difference of widths, in widths
// Cosine between the normals of a wall's faces: within 20 degrees of parallel; else they meet in the edge of
// a body, and the thickness beside that edge says nothing.
constexpr double opposite = -0.94;

/// Radius of the round cavity that a wall point looks into [mm]; nothing: none, or not round.
std::optional<double> cavity_radius(const ToolView& view, const WallPoint& wall) {
  const auto facing = view.look(wall.place, wall.normal);
  if (!facing) return std::nullopt;
  const double width = facing->distance;
  const Vector3d centre = wall.place + 0.5 * width * wall.normal;
  for (int i = 1; i < 8; ++i) {
    const double angle = i * std::numbers::pi / 4;
    const Vector3d way = Eigen::AngleAxisd(angle, Vector3d::UnitZ()) * wall.normal;
    const auto hit = view.look(centre, way);
    if (!hit || std::abs(hit->distance - 0.5 * width) > round_enough * 0.5 * width) return std::nullopt;
  }
  return 0.5 * width;
}

/// Height of the wall's top, seen from above [mm].
double top_of(const ToolView& view, const WallPoint& wall, double thickness) {
  constexpr std::array<double, 3> depths{0.1, 0.5, 0.9};  // in thicknesses
  double top = view.lowest();
  for (const double depth : depths)
    top = std::max(top, view.height_at((wall.place - depth * thickness * wall.normal).head<2>()));
  return top;
}

/// Keeps findings in order that are far enough from those kept before.
template <class Finding, class Distance>
std::vector<Finding> apart(const std::vector<Finding>& sorted, Distance distance) {
  std::vector<Finding> kept;
  for (const Finding& finding : sorted)
    if (std::none_of(kept.begin(), kept.end(),
                     [&](const Finding& other) { return (other.at - finding.at).norm() < distance(other); }))
      kept.push_back(finding);
  return kept;
}

void look_at(const ToolView& view, const WallPoint& wall, WallsAndRings& found) {
  const auto behind = view.look(wall.place, -wall.normal);
  if (!behind || view.normal(behind->triangle).dot(wall.normal) > opposite) return;
  const double thickness = behind->distance;
  if (const auto radius = cavity_radius(view, wall)) {
    found.rings.push_back({*radius, *radius + thickness, wall.place});
    return;
  }
  if (cavity_radius(view, {wall.place - thickness * wall.normal, -wall.normal})) return;
  const double height = top_of(view, wall, thickness) - wall.place.z();
  if (height > 0) found.walls.push_back({thickness, height, wall.place});
}

}  // namespace

WallsAndRings find_walls(const ToolView& view) {
  WallsAndRings found;
  for (const WallPoint& wall : view.wall_points()) look_at(view, wall, found);
  std::stable_sort(found.walls.begin(), found.walls.end(),
                   [](const Wall& a, const Wall& b) { return a.slenderness() > b.slenderness(); });
  std::stable_sort(found.rings.begin(), found.rings.end(),
                   [](const Ring& a, const Ring& b) { return a.ratio() < b.ratio(); });
  found.walls = apart(found.walls, [](const Wall& w) { return 3 * w.height; });
  found.rings = apart(found.rings, [](const Ring& r) { return 2.5 * r.inner_radius; });
  return found;
}

}  // namespace halftool::mesh
