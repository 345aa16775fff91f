#pragma once
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// How the flat blank lies on the highest level of the tool half under it. Halves that symmetry leaves out
/// count.
struct Resting {
  Eigen::Vector2d centroid;  ///< of the blank's area [mm]
  double outside = 0;        ///< distance of the centroid from the hull of all places of contact [mm]
};

/// @param level  of the tool face of the flat blank, see resting_level [mm]
Resting find_resting(const ToolSurface& tool, const BlankSpec& blank, double level);

}  // namespace halftool::mesh
