#pragma once
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Makes the worst triangles of a flat mesh (z constant) better: swaps the diagonal of two triangles, or
/// moves a node that is not fixed, whenever that raises the smallest angle around. Never makes it worse;
/// deterministic.
/// @param fixed   (n_nodes) nodes that must stay
/// @param wanted  angle [rad] below which a triangle is worked on
void improve_angles(SurfaceMesh& mesh, const std::vector<bool>& fixed, double wanted);

}  // namespace halftool::mesh
