#pragma once
#include <Eigen/Core>

#include "mesh/surface_mesh.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// The place where the tool stands deepest in the sheet.
struct ToolInSheet {
  double depth = 0;                              ///< past the sheet's tool face [mm]; 0: nowhere
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< on the tool [mm]
};

/// Looks from the tool at the sheet, whose contact is computed at the middles of its triangles only: a sharp
/// edge or a feature smaller than a triangle can stand inside one unseen. Looked from are the corners of the
/// tool's facets and places half a thickness apart along its sharp convex edges. Triangles count as flat, so
/// that a sheet bent round the tool shows the sagitta of its triangles as depth.
/// @param sheet      mid-surface, normals away from the tool
/// @param thickness  (n_triangles) [mm]
ToolInSheet deepest_in_sheet(const ToolSurface& tool, const SurfaceMesh& sheet,
                             const Eigen::VectorXd& thickness);

}  // namespace halftool::mesh
