#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "mesh/edge_uses.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Two borders of a surface that run beside one another and were not joined.
struct OpenSeam {
  double width = 0;    ///< median over the border edges: at the end where it is wider [mm]
  Eigen::Vector3d at;  ///< where it is that wide [mm]
};

/// Edges of a border, by their two nodes.
using BorderEdges = std::vector<std::pair<int, int>>;

/// All border edges of the facets for which `chosen` holds; empty: of all.
BorderEdges find_border(const EdgeUses& uses, const std::vector<bool>& chosen = {});

/// Whether a border is the bank of an open seam: most of its length has another border edge beside it, at the
/// middle of an edge nearer than a quarter of their length and than the size up to which holes are filled. Of
/// long borders some 200 edges are looked at.
std::optional<OpenSeam> find_open_seam(const SurfaceMesh& mesh, const EdgeUses& uses,
                                       const BorderEdges& border);

/// What the seam is, where, and the mend, as the end of an error message.
/// @param extent  see extent_of [mm]
std::string describe(const OpenSeam& seam, double extent);

/// Refuses a surface that branches because the banks of a seam were joined in places only; one that branches
/// for another reason is left to others.
/// @throws MeshError  naming width and place
void refuse_branching_seam(const SurfaceMesh& mesh);

}  // namespace halftool::mesh
