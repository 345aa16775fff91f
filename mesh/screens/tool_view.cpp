#include "mesh/screens/tool_view.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <set>

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

constexpr double level_share = 1e-6;  // of the extent: heights that count as one
constexpr double steep = 0.5;         // |z| of the normal of a wall: 60 degrees and more
constexpr int most_parts = 40;        // of a facet's side

Vector3d corner_of(const SurfaceMesh& mesh, int facet, int i) {
  return mesh.nodes.row(mesh.triangles(facet, i));
}

using Corners = std::array<Vector3d, 3>;

Corners corners_of(const SurfaceMesh& mesh, int facet) {
  return {corner_of(mesh, facet, 0), corner_of(mesh, facet, 1), corner_of(mesh, facet, 2)};
}

Vector3d at(const Corners& corners, const Vector3d& b) {
  return b(0) * corners[0] + b(1) * corners[1] + b(2) * corners[2];
}

/// Barycentric coordinates of the middles of equal parts of a facet; of a facet that has more than one
/// part also of three places close to its corners, which come last.
std::vector<Vector3d> spread(const Corners& p, double spacing) {
  const double longest = std::max({(p[1] - p[0]).norm(), (p[2] - p[1]).norm(), (p[0] - p[2]).norm()});
  const int n = std::clamp(static_cast<int>(std::ceil(longest / spacing)), 1, most_parts);
  std::vector<Vector3d> places;
  const auto add = [&](double u, double v) { places.emplace_back(1 - (u + v) / n, u / n, v / n); };
  for (int i = 0; i < n; ++i)
    for (int j = 0; i + j < n; ++j) {
      add(i + 1.0 / 3, j + 1.0 / 3);
      if (i + j + 1 < n) add(i + 2.0 / 3, j + 2.0 / 3);
    }
  if (n == 1) return places;
  constexpr double off_corner = 0.01 / 3;
  for (int i = 0; i < 3; ++i)
    places.push_back((1 - 3 * off_corner) * Vector3d::Unit(i) + Vector3d::Constant(off_corner));
  return places;
}

/// A cube of space and one of eight directions: places within one are alike.
using Cell = std::array<int, 4>;

Cell cell_of(const WallPoint& point, double side) {
  const double eighth = std::atan2(point.normal.y(), point.normal.x()) / (std::numbers::pi / 4);
  const Vector3d cube = point.place / side;
  return {static_cast<int>(std::floor(cube.x())), static_cast<int>(std::floor(cube.y())),
          static_cast<int>(std::floor(cube.z())), static_cast<int>(std::lround(eighth))};
}

}  // namespace

ToolView::ToolView(const ToolSurface& tool)
    : tool_(&tool), edges_(build_edges(tool.mesh())), radii_(find_radii(tool, edges_)) {
  const SurfaceMesh& mesh = tool.mesh();
  lowest_ = mesh.nodes.col(2).minCoeff();
  highest_ = mesh.nodes.col(2).maxCoeff();
  extent_ = highest_ - lowest_;
  Eigen::AlignedBox3d box;
  for (int f = 0; f < n_facets(); ++f) {
    if (is_at_bottom(f)) continue;
    for (int i = 0; i < 3; ++i) box.extend(corner_of(mesh, f, i));
  }
  if (!box.isEmpty()) extent_ = box.sizes().maxCoeff();
}

Vector3d ToolView::normal(int facet) const {
  const SurfaceMesh& mesh = tool_->mesh();
  const Vector3d a = corner_of(mesh, facet, 0);
  return (corner_of(mesh, facet, 1) - a).cross(corner_of(mesh, facet, 2) - a).normalized();
}

Vector3d ToolView::smooth_normal(int facet) const {
  return net().facets[static_cast<std::size_t>(facet)].unit_normal(Vector3d::Constant(1.0 / 3));
}

Vector3d ToolView::middle(int facet) const {
  const SurfaceMesh& mesh = tool_->mesh();
  return (corner_of(mesh, facet, 0) + corner_of(mesh, facet, 1) + corner_of(mesh, facet, 2)) / 3;
}

double ToolView::area(int facet) const {
  const SurfaceMesh& mesh = tool_->mesh();
  const Vector3d a = corner_of(mesh, facet, 0);
  return 0.5 * (corner_of(mesh, facet, 1) - a).cross(corner_of(mesh, facet, 2) - a).norm();
}

bool ToolView::is_at_bottom(const Vector3d& x) const {
  return x.z() <= lowest_ + level_share * std::max(extent_, 1.0);
}

bool ToolView::is_at_bottom(int facet) const {
  for (int i = 0; i < 3; ++i)
    if (!is_at_bottom(corner_of(tool_->mesh(), facet, i))) return false;
  return std::abs(normal(facet).z()) > 0.999;
}

bool ToolView::has_floor() const {
  for (int f = 0; f < n_facets(); ++f)
    if (is_at_bottom(f) && normal(f).z() > 0) return true;
  return false;
}

bool ToolView::is_open() const {
  return std::any_of(net().sharp_edges.begin(), net().sharp_edges.end(), [&](const SharpEdge& edge) {
    return edge.is_border() && !(is_at_bottom(edge.a) && is_at_bottom(edge.b));
  });
}

std::vector<Vector3d> ToolView::places_on(int facet) const {
  std::vector<Vector3d> places;
  const auto corners = corners_of(tool_->mesh(), facet);
  for (const Vector3d& b : spread(corners, spacing())) places.push_back(at(corners, b));
  return places;
}

std::vector<WallPoint> ToolView::wall_points() const {
  std::vector<WallPoint> points;
  std::set<Cell> taken, taken_at_corners;
  for (int f = 0; f < n_facets(); ++f) {
    if (std::abs(smooth_normal(f).z()) > steep) continue;
    const auto corners = corners_of(tool_->mesh(), f);
    const auto places = spread(corners, spacing());
    for (std::size_t i = 0; i < places.size(); ++i) {
      Vector3d outward = net().facets[static_cast<std::size_t>(f)].unit_normal(places[i]);
      outward.z() = 0;
      const WallPoint point{at(corners, places[i]), outward.normalized()};
      const bool at_corner = places.size() > 1 && i + 3 >= places.size();
      const bool is_new = at_corner ? taken_at_corners.insert(cell_of(point, 0.1 * spacing())).second
                                    : taken.insert(cell_of(point, 0.5 * spacing())).second;
      if (is_new) points.push_back(point);
    }
  }
  return points;
}

std::optional<RayHit> ToolView::look(const Vector3d& from, const Vector3d& direction) const {
  return tool_->tree().first_hit(from, direction, 1e-3 + 2e-6 * extent_);
}

bool ToolView::sees_sky(const Vector3d& from) const {
  return !look(from, Vector3d::UnitZ());
}

double ToolView::height_below(const Vector3d& from) const {
  const auto hit = look(from, -Vector3d::UnitZ());
  return hit ? from.z() - hit->distance : lowest_;
}

double ToolView::height_at(const Eigen::Vector2d& plan) const {
  return height_below({plan.x(), plan.y(), highest_ + 1 + 0.01 * extent_});
}

double turn_of(const SharpEdge& edge, const ToolView& view) {
  if (edge.is_border()) return 0;
  const SurfaceMesh& mesh = view.tool().mesh();
  const auto face_normal = [&](int facet) {
    Vector3d sum = Vector3d::Zero();
    for (int i = 0; i < 3; ++i)
      if (mesh.triangles(facet, i) == edge.tail || mesh.triangles(facet, i) == edge.head)
        sum += view.net().facets[static_cast<std::size_t>(facet)].normal[static_cast<std::size_t>(i)];
    return sum;
  };
  const Vector3d first = face_normal(edge.facets[0]), second = face_normal(edge.facets[1]);
  const double turn = std::atan2(first.cross(second).norm(), first.dot(second));
  const double rise = first.dot(view.middle(edge.facets[1]) - 0.5 * (edge.a + edge.b));
  return rise < 0 ? turn : -turn;
}

}  // namespace halftool::mesh
