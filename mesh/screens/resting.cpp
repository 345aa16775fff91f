#include "mesh/screens/resting.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "mesh/convex_hull.hpp"
#include "mesh/outline.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;
using Polygon = std::vector<Vector2d>;

constexpr double contact = 1e-3;        // below the level that is still contact [mm]
constexpr int places_on_facet = 8;      // along a side
constexpr int places_on_border = 2000;  // along each loop

struct Moment {
  double area = 0;
  Vector2d first = Vector2d::Zero();
};

Moment moment_of(const Polygon& polygon) {
  Moment sum;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vector2d& a = polygon[i];
    const Vector2d& b = polygon[(i + 1) % polygon.size()];
    sum.area += cross(a, b) / 2;
    sum.first += (a + b) * cross(a, b) / 6;
  }
  if (sum.area < 0) sum = {-sum.area, -sum.first};
  return sum;
}

Vector2d centroid_of(const Polygon& outer, const std::vector<Polygon>& holes, const BlankSpec& blank) {
  Moment sum = moment_of(outer);
  for (const Polygon& hole : holes) {
    const Moment cut = moment_of(hole);
    sum.area -= cut.area;
    sum.first -= cut.first;
  }
  Vector2d centroid = sum.first / sum.area;
  if (blank.symmetric_x) centroid.x() = 0;
  if (blank.symmetric_y) centroid.y() = 0;
  return centroid;
}

/// Where the tool comes up to the level under the blank: places on the facets that do.
void add_facet_places(const ToolSurface& tool, double level, const Polygon& outer,
                      const std::vector<Polygon>& holes, Polygon& places) {
  const auto covers = [&](const Vector2d& x) {
    return is_inside(outer, x) &&
           std::none_of(holes.begin(), holes.end(), [&](const auto& hole) { return is_inside(hole, x); });
  };
  constexpr double n = places_on_facet;
  for (const CurvedFacet& facet : tool.facets()) {
    double highest = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < 3; ++i)
      highest = std::max({highest, facet.corner[i].z(), facet.middle[i].z()});
    if (highest < level - contact) continue;
    for (int i = 0; i <= places_on_facet; ++i)
      for (int j = 0; i + j <= places_on_facet; ++j) {
        const Vector3d x = facet.point({(n - i - j) / n, i / n, j / n});
        if (std::abs(x.z() - level) <= contact && covers(x.head<2>())) places.push_back(x.head<2>());
      }
  }
}

/// The same along the blank's border.
void add_border_places(const ToolSurface& tool, double level, const Polygon& loop, Polygon& places) {
  double length = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) length += (loop[(i + 1) % loop.size()] - loop[i]).norm();
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vector2d along = loop[(i + 1) % loop.size()] - loop[i];
    const int n = 1 + static_cast<int>(along.norm() * places_on_border / length);
    for (int k = 0; k < n; ++k) {
      const Vector2d x = loop[i] + k * along / n;
      const auto below = tool.nearest({x.x(), x.y(), level}, 10 * contact);
      if (below && std::abs(below->gap) <= contact) places.push_back(x);
    }
  }
}

void add_mirrored(int axis, Polygon& places) {
  const std::size_t n = places.size();
  for (std::size_t i = 0; i < n; ++i) {
    Vector2d mirrored = places[i];
    mirrored(axis) *= -1;
    places.push_back(mirrored);
  }
}

double distance_outside(const Polygon& hull, const Vector2d& x) {
  if (hull.size() == 1) return (hull[0] - x).norm();
  if (hull.size() > 2 && is_inside(hull, x)) return 0;
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < hull.size(); ++i)
    nearest = std::min(nearest, distance_to(OutlinePiece{hull[i], hull[(i + 1) % hull.size()], {}, {}}, x));
  return nearest;
}

}  // namespace

double Resting::across() const {
  double largest = 0;
  for (const Vector2d& a : supported)
    for (const Vector2d& b : supported) largest = std::max(largest, (a - b).norm());
  return largest;
}

std::optional<Resting> find_resting(const ToolSurface& tool, const BlankSpec& blank, double level) {
  const PlacedOutline outline = place_outline(blank);
  const Polygon outer = as_polygon(outline.outer);
  std::vector<Polygon> holes;
  for (const Loop& hole : outline.holes) holes.push_back(as_polygon(hole));

  Polygon places;
  add_facet_places(tool, level, outer, holes, places);
  add_border_places(tool, level, outer, places);
  for (const Polygon& hole : holes) add_border_places(tool, level, hole, places);
  if (blank.symmetric_x) add_mirrored(0, places);
  if (blank.symmetric_y) add_mirrored(1, places);

  if (places.empty()) return std::nullopt;

  Resting resting;
  resting.centroid = centroid_of(outer, holes, blank);
  resting.supported = convex_hull(std::move(places));
  resting.outside = distance_outside(resting.supported, resting.centroid);
  return resting;
}

}  // namespace halftool::mesh
