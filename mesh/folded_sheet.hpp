#pragma once
#include <Eigen/Core>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Where a sheet passes through itself.
struct FoldedSheet {
  int triangles = 0;                             ///< that pass through others, or through a plane of symmetry
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< the middle of one of them [mm]
};

/// Looks whether the mid-surface of a formed sheet passes through itself: what is computed without contact of
/// the sheet with itself may fold over and go on as if there were nothing in the way. A part of which half
/// is computed passes through its mirror image where it passes through the plane of symmetry.
/// @param mid_surface   [mm]
/// @param tolerance     what is let pass [mm]
/// @param symmetric_x, symmetric_y  the part at x > 0, at y > 0 is computed
/// @throws MeshError  the search could not be made
FoldedSheet find_folds(const SurfaceMesh& mid_surface, double tolerance, bool symmetric_x, bool symmetric_y);

}  // namespace halftool::mesh
