#pragma once
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Turns triangles over so that neighbours agree and each connected piece faces outward: a closed piece
/// encloses a positive volume, an open one faces +z on the whole.
/// @return number of pieces that are not closed
/// @throws MeshError  branching or one-sided surface
int orient_outward(SurfaceMesh& mesh);

}  // namespace halftool::mesh
