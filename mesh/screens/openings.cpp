#include "mesh/screens/openings.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

/// Height of the rim behind a wall, seen from above: the highest place within one width of the opening.
double rim_behind(const ToolView& view, const Vector3d& wall, const Vector3d& inward, double width) {
  constexpr std::array<double, 5> depths{0.01, 0.1, 0.25, 0.5, 1};  // in widths
  double rim = view.lowest();
  for (const double depth : depths)
    rim = std::max(rim, view.height_at((wall + depth * width * inward).head<2>()));
  return rim;
}

double reach_along(const ToolView& view, const Vector3d& from, const Vector3d& direction) {
  const auto hit = view.look(from, direction);
  return hit ? std::min(hit->distance, view.extent()) : view.extent();
}

std::optional<Opening> opening_at(const ToolView& view, const WallPoint& wall, double widest, double dip) {
  const auto facing = view.look(wall.place, wall.normal);
  if (!facing || facing->distance > widest) return std::nullopt;
  const double between = facing->distance;
  const Vector3d middle = wall.place + 0.5 * between * wall.normal;
  if (!view.sees_sky(middle)) return std::nullopt;
  const double level = std::min(rim_behind(view, wall.place, -wall.normal, between),
                                rim_behind(view, wall.place + between * wall.normal, wall.normal, between));
  if (level <= wall.place.z()) return std::nullopt;
  const Vector3d mouth(middle.x(), middle.y(), level - dip);
  const auto one = view.look(mouth, wall.normal), other = view.look(mouth, -wall.normal);
  if (!one || !other) return std::nullopt;
  Opening opening;
  opening.across = wall.normal;
  opening.width = one->distance + other->distance;
  if (opening.width > widest) return std::nullopt;
  const Vector3d centre = mouth + 0.5 * (one->distance - other->distance) * wall.normal;
  const Vector3d along = Vector3d::UnitZ().cross(wall.normal);
  const double ahead = reach_along(view, centre, along), back = reach_along(view, centre, -along);
  opening.length = std::min(ahead + back, view.extent());
  opening.at = Vector3d(centre.x(), centre.y(), level);
  opening.depth = level - view.height_below(centre);
  return opening;
}

/// Whether two findings lie in one opening: the middles within its length and width.
bool are_one(const Opening& kept, const Opening& found) {
  const Vector3d way = found.at - kept.at;
  const Vector3d along = Vector3d::UnitZ().cross(kept.across);
  return std::abs(way.dot(kept.across)) < 0.75 * kept.width && std::abs(way.dot(along)) < kept.length;
}

}  // namespace

bool Opening::holds(const Vector3d& x) const {
  constexpr double with_walls = 0.51;  // of the width: the walls belong to it
  const Vector3d way = x - at;
  // Where along a slot its middle was found is not known, so its whole length counts both ways.
  const double along = is_hole() ? with_walls * length : length;
  return way.z() < 0 && std::abs(way.dot(across)) <= with_walls * width &&
         std::abs(way.dot(Vector3d::UnitZ().cross(across))) <= along;
}

std::vector<Opening> find_openings(const ToolView& view, double widest, double dip) {
  std::vector<Opening> found;
  for (const WallPoint& wall : view.wall_points())
    if (const auto opening = opening_at(view, wall, widest, dip)) found.push_back(*opening);
  std::stable_sort(found.begin(), found.end(),
                   [](const Opening& a, const Opening& b) { return a.width < b.width; });
  std::vector<Opening> openings;
  for (const Opening& opening : found)
    if (std::none_of(openings.begin(), openings.end(),
                     [&](const Opening& kept) { return are_one(kept, opening); }))
      openings.push_back(opening);
  return openings;
}

}  // namespace halftool::mesh
