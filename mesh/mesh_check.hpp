#pragma once
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Refuses a sheet that cannot be computed: a corner that is no number, an edge without length, a triangle
/// without area, a needle (an angle below 1 degree: common practice, no source), a triangle turned over, that
/// is, folded flat back on its neighbour.
/// @throws MeshError  the first such triangle with its number and corners, and the mend
void check_triangles(const SurfaceMesh& mesh, const EdgeTable& edges);

}  // namespace halftool::mesh
