#pragma once
#include <Eigen/Core>
#include <vector>

#include "io/figures/drawn_sheet.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::io {

/// An upright plane x = at (axis 0) or y = at (axis 1).
struct SectionPlane {
  int axis = 1;
  double at = 0;  ///< [mm]
};

/// A line in which a plane cuts a surface.
struct CutLine {
  Eigen::MatrixXd points;  ///< (n, 2 + k): place along the plane (y or x), z [mm], then the k carried values
  bool closed = false;
};

/// Cuts a triangulated surface. A node on the plane counts as lying beyond it.
/// @param carried  (n_nodes, k) values that are interpolated along; may have no column
/// @return lines in order of first appearance, each walked end to end
std::vector<CutLine> cut_surface(const mesh::Points& points, const mesh::Triangles& triangles,
                                 const SectionPlane& plane, const Eigen::MatrixXd& carried);

/// The sheet's cross-section: closed outlines of the bands half a thickness to either side of the
/// mid-surface, (n, 2) each [mm].
std::vector<Eigen::MatrixX2d> cut_sheet(const DrawnSheet& sheet, const SectionPlane& plane);

/// The plane that shows most of the bending: across x or y as the part folds more about the one or the other,
/// through the origin of the tool's frame if the part covers it, else through the part's middle.
SectionPlane choose_section(const DrawnSheet& sheet);

}  // namespace halftool::io
