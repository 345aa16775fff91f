#pragma once
#include <array>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Pairs of facets that pass through one another by more than a tolerance, in order; facets that touch or lie
/// on each other do not. Pairs of facets whose boxes meet come from Embree.
/// @param tolerance  [mm]
/// @throws MeshError  the search could not be made
std::vector<std::array<int, 2>> crossing_facets(const SurfaceMesh& mesh, double tolerance);

/// Refuses a surface whose facets pass through one another by more than a few weld tolerances, such as bodies
/// that overlap and were not united.
/// @throws MeshError  naming one place and the number of pairs, or the open seam whose banks cross
void refuse_crossings(const SurfaceMesh& mesh);

/// Refuses a piece of the surface that lies within another, closed one (a hollow, or a copy of another size).
/// Source: winding number by solid angles, A. van Oosterom and J. Strackee (1983), IEEE Transactions on
/// Biomedical Engineering 30, 125-126.
/// @param mesh  oriented, free of crossings
/// @throws MeshError  naming a place of the inner piece
void refuse_nested_pieces(const SurfaceMesh& mesh);

}  // namespace halftool::mesh
