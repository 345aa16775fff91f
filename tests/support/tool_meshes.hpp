#pragma once
#include <functional>

#include "mesh/tool_surface.hpp"

namespace halftool::testing {

/// A point of a smooth surface with its unit outward normal there.
struct SurfacePoint {
  Eigen::Vector3d place, normal;
};

/// Irregular triangulation of a smooth surface over the unit square, with exact corner normals. Inner nodes
/// are shifted by `jitter` of a cell and the diagonals fall at random (always the same way for the same
/// arguments).
/// @param surface  u, v -> point; (d/du) x (d/dv) points outward
mesh::ToolSurface tool_over_square(int n_u, int n_v, double jitter,
                                   const std::function<SurfacePoint(double, double)>& surface);

/// Axis-parallel box about the origin, flat facets, outward normals.
mesh::ToolSurface box_tool(const Eigen::Vector3d& half_size);

/// Signed distance of the same box (exact).
double box_distance(const Eigen::Vector3d& half_size, const Eigen::Vector3d& x);

}  // namespace halftool::testing
