#pragma once
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Splits facets more than four times as long as wide whose long side is curved, as CAD programs export
/// rounds along curved edges: a quadratic patch follows the long side's curve within the surface with an
/// error that is not small against the facet's width. The long sides are halved, again and again; pairs of
/// facets that share their longest side are taken as one four-sided facet and halved across. New corners lie
/// on the cubic through the ends of the side and the next corners on the same line of sides (one-sided at its
/// ends), and so do their normals.
/// @param corner_normals  (3 n_triangles, 3), as ToolSurface takes them
/// @return number of facets added
int split_curved_slivers(SurfaceMesh& mesh, Points& corner_normals);

}  // namespace halftool::mesh
