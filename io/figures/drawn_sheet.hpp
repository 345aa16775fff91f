#pragma once
#include <Eigen/Core>
#include <utility>
#include <vector>

#include "io/figures/scene.hpp"
#include "mesh/surface_mesh.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// What the pictures need of a state of the sheet.
struct DrawnSheet {
  mesh::Triangles triangles;    ///< (n_triangles, 3)
  mesh::Points positions;       ///< (n_nodes, 3) [mm], mid-surface
  Eigen::VectorXd thickness;    ///< (n_triangles) [mm]
  Eigen::VectorXd thinning;     ///< (n_triangles)
  Eigen::VectorXd limit_share;  ///< (n_triangles) see larger_shares
};

/// (n_triangles) The share of the forming limit on a straight path or along the one taken, whichever is
/// larger; NaN: neither is judged; empty: no limit.
Eigen::VectorXd larger_shares(const solver::SheetFields& fields);

DrawnSheet take_sheet(const solver::SheetFields& fields);

/// The sheet and its mirror image in the plane x = 0 (axis 0) or y = 0 (axis 1), joined along the plane.
/// @param tolerance  nodes nearer to the plane lie on it [mm]
DrawnSheet mirrored(const DrawnSheet& sheet, int axis, double tolerance = 1e-3);

/// Both faces of some triangles and the rim along their border as one surface, so that the sheet shows its
/// thickness. Points are those of the pad face followed by those of the tool face.
/// @param triangles  (n, 3) of the nodes of `sheet`; not necessarily all
/// @param swell      factor on the thickness
Surface thick_surface(const DrawnSheet& sheet, const mesh::Triangles& triangles, double swell = 1);

/// Edges that belong to one triangle only, in order of the triangles and running as they do.
std::vector<std::pair<int, int>> border_edges(const mesh::Triangles& triangles);

/// The triangles whose share of the forming limit exceeds 1.
mesh::Triangles triangles_over(const DrawnSheet& sheet);

/// Smallest box around the points.
Eigen::AlignedBox3d bounds(const mesh::Points& points);

}  // namespace halftool::io
