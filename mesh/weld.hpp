#pragma once
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Finds nodes at one place.
/// @param tolerance  largest distance of a node to the one that it is merged into [mm]
/// @param taking_part  (n) nodes that may be merged; empty: all
/// @return (n) number of the node that stands for each; itself where there is none before it
std::vector<int> find_same_nodes(const Points& nodes, double tolerance, const std::vector<bool>& taking_part);

/// Renumbers the triangles by `stands_for` and leaves out nodes that no triangle uses.
void merge_nodes(SurfaceMesh& mesh, const std::vector<int>& stands_for);

/// Keeps the triangles for which `kept` holds, and the nodes that they use.
void keep_triangles(SurfaceMesh& mesh, const std::vector<bool>& kept);

}  // namespace halftool::mesh
