#pragma once
#include <vector>

#include "mesh/screens/tool_view.hpp"

namespace halftool::mesh {

/// A wall of the tool at the level where it is weakest.
struct Wall {
  double thickness = 0;                          ///< along the normal of its face [mm]
  double height = 0;                             ///< of its top above that level [mm]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< on its face [mm]

  [[nodiscard]] double slenderness() const { return height / thickness; }
};

/// The wall round a cavity that is round in plan.
struct Ring {
  double inner_radius = 0, outer_radius = 0;     ///< where it is thinnest [mm]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< on its inner face [mm]

  [[nodiscard]] double ratio() const { return outer_radius / inner_radius; }
};

struct WallsAndRings {
  std::vector<Wall> walls;  ///< most slender first, each at least three of its heights from the ones before
  std::vector<Ring> rings;  ///< relatively thinnest first
};

/// Looks from every wall's face inward for the face behind and outward for the rest of a round cavity. At
/// each level of a wall the height counts from there to its top, so that the foot finds itself: below it the
/// wall is no longer thin. A cavity is round where four widths at 45 degrees agree within 5 percent; its
/// walls are rings and no free-standing walls.
WallsAndRings find_walls(const ToolView& view);

}  // namespace halftool::mesh
