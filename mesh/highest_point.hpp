#pragma once
#include <Eigen/Core>
#include <optional>
#include <vector>

#include "mesh/outline.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// Height [mm] of the highest point of the curved tool facets that lies under a region, seen along the press
/// axis.
/// @param outer  corners of the region in order
/// @param holes  what is cut out of it
/// @return nothing if no facet lies under the region
std::optional<double> highest_under(const ToolSurface& tool, const std::vector<Eigen::Vector2d>& outer,
                                    const std::vector<std::vector<Eigen::Vector2d>>& holes);

/// Level of the tool face of a blank that lies flat on a tool half [mm].
/// @throws MeshError  nothing of the tool under the blank, or only its lowest level (the tray floor)
double resting_level(const PlacedOutline& outline, const ToolSurface& tool);

}  // namespace halftool::mesh
