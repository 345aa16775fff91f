#pragma once
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/outline.hpp"

namespace halftool::mesh {

/// Which places of the tool the flat blank covers and which it can come to lie on. A rough rule, own
/// judgement: over a block the sheet beyond a place hangs down by no more than its own length, stretched by a
/// fifth; into a cavity it can go anywhere inside its outline.
class SheetReach {
 public:
  /// @param level      of the tool face of the flat blank [mm]
  /// @param into_tool  the sheet goes into the tool (cavity), not over it
  SheetReach(const BlankSpec& blank, double level, bool into_tool);

  /// Distance of a point in plan from the cut edge [mm], < 0 outside of the sheet or in a hole.
  [[nodiscard]] double inside(const Eigen::Vector2d& plan) const;
  /// Under the flat blank, and at least a thickness inside its edge.
  [[nodiscard]] bool covers(const Eigen::Vector3d& x) const;
  [[nodiscard]] bool reaches(const Eigen::Vector3d& x) const;

 private:
  PlacedOutline outline_;
  std::vector<Eigen::Vector2d> outer_;
  std::vector<std::vector<Eigen::Vector2d>> holes_;
  double thickness_, level_;
  bool into_tool_;
};

}  // namespace halftool::mesh
