#pragma once
#include <vector>

#include "mesh/tool_surface.hpp"

namespace halftool::testing {

/// Axis-parallel block.
struct Cuboid {
  Eigen::Vector3d low, high;  ///< [mm]
};

/// Closed blocks beside or above each other as one tool, flat facets, outward normals.
mesh::ToolSurface tool_of(const std::vector<Cuboid>& cuboids);

}  // namespace halftool::testing
