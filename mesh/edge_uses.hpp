#pragma once
#include <map>
#include <utility>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// The triangles at each edge, by its two nodes, the lower first: of any surface, also one that branches or
/// whose triangles do not agree in their orientation.
using EdgeUses = std::map<std::pair<int, int>, std::vector<int>>;

EdgeUses find_edge_uses(const SurfaceMesh& mesh);

/// Number of the connected piece of each triangle, (n_triangles), by common edges, from 0.
std::vector<int> find_pieces(const SurfaceMesh& mesh, const EdgeUses& uses);

}  // namespace halftool::mesh
