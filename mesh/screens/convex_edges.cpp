#include "mesh/screens/convex_edges.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "mesh/facet_curvature.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

constexpr double least_turn = 30 * std::numbers::pi / 180;
constexpr double neighbourhood = 2.5;  // in radii: holds a rounded edge across, and little of it along
constexpr double upward = 0.1;         // z of the mean normal of an edge that the pad comes down on

double angle_between(const Vector3d& a, const Vector3d& b) {
  return std::atan2(a.cross(b).norm(), a.dot(b));
}

void add(SharpLine& line, double length, double radius, double turn, const Vector3d& at) {
  constexpr double same = 1e-3;
  const bool worse = line.length == 0 || radius < line.radius - same ||
                     (radius < line.radius + same && turn > line.turn + same);
  line.length += length;
  if (!worse) return;
  line.radius = radius;
  line.turn = turn;
  line.at = at;
}

/// Largest turn of the normal across the rounded edge near one of its facets: from the normal farthest from
/// that facet's to the one farthest from that.
double turn_near(int facet, const RadiusPatch& patch, const ToolView& view) {
  std::vector<Vector3d> normals;
  for (const int f : patch.facets) {
    if ((view.middle(f) - view.middle(facet)).norm() > neighbourhood * patch.radius) continue;
    const auto& corners = view.net().facets[static_cast<std::size_t>(f)].normal;
    normals.insert(normals.end(), corners.begin(), corners.end());
  }
  const auto farthest = [&](const Vector3d& from) {
    return *std::max_element(normals.begin(), normals.end(), [&](const Vector3d& a, const Vector3d& b) {
      return angle_between(from, a) < angle_between(from, b);
    });
  };
  const Vector3d one = farthest(view.smooth_normal(facet));
  return angle_between(one, farthest(one));
}

/// The largest turn at some facets spread over the patch.
double turn_across(const RadiusPatch& patch, const ToolView& view) {
  constexpr std::size_t some = 16;
  const std::size_t step = std::max<std::size_t>(1, patch.facets.size() / some);
  double turn = 0;
  for (std::size_t i = 0; i < patch.facets.size(); i += step)
    turn = std::max(turn, turn_near(patch.facets[i], patch, view));
  return turn;
}

void add_rounded(const RadiusPatch& patch, const ToolView& view, const SheetReach& reach,
                 ConvexEdges& edges) {
  const double turn = turn_across(patch, view);
  if (turn < least_turn) return;
  for (const int f : patch.facets) {
    const Vector3d middle = view.middle(f);
    if (view.normal(f).z() < upward || !view.sees_sky(middle)) continue;
    const double length = view.area(f) / (patch.radius * turn);
    add(reach.reaches(middle) ? edges.covered : edges.bare, length, patch.radius, turn, middle);
  }
}

}  // namespace

ConvexEdges find_convex_edges(const ToolView& view, const SheetReach& reach, double radius) {
  ConvexEdges edges;
  for (const SharpEdge& edge : view.net().sharp_edges) {
    const double turn = turn_of(edge, view);
    if (turn < least_turn || edge.outward.z() < upward) continue;
    const Vector3d middle = edge.point(0.5);
    if (!view.sees_sky(middle + view.spacing() * 1e-3 * edge.outward)) continue;
    add(reach.reaches(middle) ? edges.covered : edges.bare, (edge.b - edge.a).norm(), 0, turn, middle);
  }
  for (const RadiusPatch& patch : view.radii())
    if (patch.convex && patch.radius < radius) add_rounded(patch, view, reach, edges);
  return edges;
}

}  // namespace halftool::mesh
