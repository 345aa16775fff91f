#include "mesh/screens/sheet_reach.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "mesh/convex_hull.hpp"

namespace halftool::mesh {
namespace {

constexpr double stretch = 1.2;  // own judgement: about the uniform strain of the softer sheets

double distance_to_sides(const std::vector<Eigen::Vector2d>& polygon, const Eigen::Vector2d& x) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < polygon.size(); ++i)
    nearest = std::min(nearest,
                       distance_to(OutlinePiece{polygon[i], polygon[(i + 1) % polygon.size()], {}, ""}, x));
  return nearest;
}

/// Where a ray first crosses a polygon, as a length along it; infinite: nowhere.
double first_crossing(const std::vector<Eigen::Vector2d>& polygon, const Eigen::Vector2d& from,
                      const Eigen::Vector2d& direction) {
  double first = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Eigen::Vector2d side = polygon[(i + 1) % polygon.size()] - polygon[i];
    const double slope = cross(direction, side);
    if (slope == 0) continue;
    const double along = cross(polygon[i] - from, side) / slope;
    const double on_side = cross(polygon[i] - from, direction) / slope;
    if (along >= 0 && on_side >= 0 && on_side <= 1) first = std::min(first, along);
  }
  return first;
}

}  // namespace

SheetReach::SheetReach(const BlankSpec& blank, double level, std::vector<Eigen::Vector2d> rims)
    : outline_(place_outline(blank)),
      outer_(as_polygon(outline_.outer)),
      thickness_(blank.thickness),
      level_(level),
      rims_(std::move(rims)) {
  for (const Loop& hole : outline_.holes) holes_.push_back(as_polygon(hole));
}

double SheetReach::inside(const Eigen::Vector2d& plan) const {
  double distance = distance_to(outline_.outer, plan);
  bool in_sheet = is_inside(outer_, plan);
  for (std::size_t i = 0; i < holes_.size(); ++i) {
    distance = std::min(distance, distance_to(outline_.holes[i], plan));
    in_sheet = in_sheet && !is_inside(holes_[i], plan);
  }
  return in_sheet ? distance : -distance;
}

double SheetReach::to_cut_edge(const Eigen::Vector2d& plan, const Eigen::Vector2d& direction) const {
  if (inside(plan) < 0) return 0;
  double length = first_crossing(outer_, plan, direction);
  for (const auto& hole : holes_) length = std::min(length, first_crossing(hole, plan, direction));
  return length;
}

bool SheetReach::covers(const Eigen::Vector3d& x) const {
  return inside(x.head<2>()) >= thickness_;
}

bool SheetReach::reaches(const Eigen::Vector3d& x) const {
  const double length = inside(x.head<2>());
  if (length < thickness_) return false;
  const Eigen::Vector2d plan = x.head<2>();
  const bool in_cavity =
      !rims_.empty() && is_inside(rims_, plan) && distance_to_sides(rims_, plan) >= thickness_;
  return in_cavity || level_ - x.z() <= stretch * length;
}

std::vector<Eigen::Vector2d> rims_of(const SurfaceMesh& tool, double level) {
  std::vector<Eigen::Vector2d> points;
  for (int i = 0; i < tool.n_nodes(); ++i)
    if (tool.nodes(i, 2) >= level) points.emplace_back(tool.nodes(i, 0), tool.nodes(i, 1));
  return convex_hull(std::move(points));
}

}  // namespace halftool::mesh
