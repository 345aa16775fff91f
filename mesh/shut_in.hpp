#pragma once
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// Whether the tool covers a place from all sides: no sky is seen straight up, nor in sixteen directions that
/// rise by 45 and 10 degrees. So lies a hole drilled from below; a wall that leans in sees the sky sideways.
/// @param from    off the surface, in the open [mm]
/// @param beyond  what lies nearer than this does not count [mm]
bool is_shut_in(const ToolSurface& tool, const Eigen::Vector3d& from, double beyond);

/// The same of a facet, from a little off its middle.
bool is_shut_in(const ToolSurface& tool, int facet);

}  // namespace halftool::mesh
