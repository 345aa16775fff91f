#pragma once
#include <array>
#include <vector>

#include "mesh/curved_facet.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// An edge where the normal jumps, or the open border of the surface.
struct SharpEdge {
  int tail = -1, head = -1;           ///< nodes
  Eigen::Vector3d a, middle, b;       ///< control points of the quadratic curve from tail to head [mm]
  std::array<int, 2> facets{-1, -1};  ///< the second is -1 on an open border
  Eigen::Vector3d outward;            ///< sum of the two faces' normals at mid-edge, unit

  [[nodiscard]] bool is_border() const { return facets[1] < 0; }
  [[nodiscard]] Eigen::Vector3d point(double s) const {
    return (1 - s) * ((1 - s) * a + 2 * s * middle) + s * s * b;
  }
  [[nodiscard]] Eigen::Vector3d slope(double s) const {
    return 2 * ((1 - s) * (middle - a) + s * (b - middle));
  }
  [[nodiscard]] Eigen::Vector3d bend() const { return 2 * (a - 2 * middle + b); }
};

/// What lies across each side of a facet.
struct FacetSides {
  std::array<int, 3> smooth{-1, -1, -1};  ///< facet across the side facing corner i, or -1
  std::array<int, 3> sharp{-1, -1, -1};   ///< sharp edge or border there, or -1
};

/// The curved facets of a surface and how they hang together. Normals that differ by less than a milliradian
/// at both ends of an edge make it a smooth one.
struct FacetNet {
  std::vector<CurvedFacet> facets;
  std::vector<FacetSides> sides;
  std::vector<SharpEdge> sharp_edges;
  std::vector<std::vector<int>> sharp_edges_at;  ///< of each node
  double largest_bulge = 0;  ///< bound of the distance between curved and flat facets [mm]
};

/// @param corner_normals  (3 n_triangles, 3) unit, see ToolSurface
/// @throws MeshError  branching surface, mixed orientation
FacetNet build_facet_net(const SurfaceMesh& mesh, const Points& corner_normals);

}  // namespace halftool::mesh
