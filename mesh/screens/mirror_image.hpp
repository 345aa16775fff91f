#pragma once
#include <optional>

#include "mesh/screens/sheet_reach.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// How far a tool half reaches on both sides of the plane on which a coordinate is 0, tray floor left out.
struct SidesOfPlane {
  double before = 0;  ///< lowest coordinate [mm]
  double beyond = 0;  ///< highest coordinate [mm]
};
/// @param axis  of the coordinate: 0 x, 1 y
SidesOfPlane sides_of_plane(const ToolSurface& tool, int axis);

/// Where a tool half is not its own mirror image.
struct MirrorDifference {
  double distance = 0;                           ///< from the mirrored place to the tool half [mm]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< place on the tool half [mm]
};

/// Mirrors places of the tool half that the sheet can come to lie on at the plane on which a coordinate is 0
/// and looks how far they stand off the tool half. Looked at are the corners of the curved facets, and places
/// on larger ones no farther apart than a hundredth of the tool half's extent; the tray floor is not.
/// @param within     what lies farther from the plane is left out [mm]
/// @param tolerance  what differs by less is the same [mm]
/// @return the place that differs most; nothing: the tool half is its own mirror image there
std::optional<MirrorDifference> find_mirror_difference(const ToolSurface& tool, int axis,
                                                       const SheetReach& reach, double within,
                                                       double tolerance);

}  // namespace halftool::mesh
