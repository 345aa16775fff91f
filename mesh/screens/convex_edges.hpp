#pragma once
#include "mesh/screens/sheet_reach.hpp"
#include "mesh/screens/tool_view.hpp"

namespace halftool::mesh {

/// Convex edges that are sharp, or rounded by less than a limit.
struct SharpLine {
  double length = 0;                             ///< of all of them [mm]
  double radius = 0;                             ///< of the worst [mm]
  double turn = 0;                               ///< of the normal across the worst [rad]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< on the worst [mm]
};

struct ConvexEdges {
  SharpLine covered;  ///< where the sheet can come to lie
  SharpLine bare;     ///< where the pad meets them
};

/// Edges that look up, are seen from above and turn the normal by more than 30 degrees. The smallest radius
/// is the worst, then the largest turn.
/// @param radius  rounded edges below it count [mm]
ConvexEdges find_convex_edges(const ToolView& view, const SheetReach& reach, double radius);

}  // namespace halftool::mesh
