#pragma once
#include <vector>

#include "mesh/gmsh_session.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// The faces of a tool as oriented triangles with the normals of the faces.
struct ToolFacets {
  SurfaceMesh mesh;
  Points corner_normals;        ///< (3 n_triangles, 3), see ToolSurface
  std::vector<int> surface_of;  ///< (n_triangles) tag of the CAD face; 0 where there is none
  double largest_turn = 0;      ///< of the normal across a facet [rad]
  int n_open_pieces = 0;
  double geometric_error = 0;  ///< see ToolSurface; of facets from STL only, others are measured on the tool
};

/// Triangulates the model so that the normal turns by no more than `facet_angle` [rad] across a facet.
/// Cylinder and torus faces with four square sides (fillets) get regular facets, up to six times as long as
/// wide (twice if the long side is curved); others follow their curvature.
/// @param for_measuring  few large facets on planes that are no walls, where they else grow from the border
/// inward; regular ones on all faces that have rows and columns; up to 1.3 times the angle on the others
/// @throws MeshError    mesher failure
ToolFacets triangulate_model(const GmshSession& session, double facet_angle, bool for_measuring = false);

/// Largest turn of the normal across a facet [rad]. @param normals  (3 n_triangles, 3)
double largest_turn(const Points& normals);

/// Largest distance [mm] from the centroids of the curved facets to the CAD faces that they stand for.
double measure_geometric_error(const GmshSession& session, const ToolSurface& tool,
                               const std::vector<int>& surface_of);

}  // namespace halftool::mesh
