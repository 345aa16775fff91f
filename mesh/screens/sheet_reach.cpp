#include "mesh/screens/sheet_reach.hpp"

#include <algorithm>

namespace halftool::mesh {
namespace {

constexpr double stretch = 1.2;  // own judgement: about the uniform strain of the softer sheets

}  // namespace

SheetReach::SheetReach(const BlankSpec& blank, double level, bool into_tool)
    : outline_(place_outline(blank)),
      outer_(as_polygon(outline_.outer)),
      thickness_(blank.thickness),
      level_(level),
      into_tool_(into_tool) {
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

bool SheetReach::covers(const Eigen::Vector3d& x) const {
  return inside(x.head<2>()) >= thickness_;
}

bool SheetReach::reaches(const Eigen::Vector3d& x) const {
  const double length = inside(x.head<2>());
  return length >= thickness_ && (into_tool_ || level_ - x.z() <= stretch * length);
}

}  // namespace halftool::mesh
