#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/assessment/edge_limit.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// True strain of the outer fibre of a sheet bent to an inside radius: ln(1 + t/(2 R + t)), neutral fibre in
/// the middle, width and thickness kept (Marciniak, Duncan and Hu 2002, ch. 6, from memory).
/// @param radius_over_thickness  R/t, >= 0
double bend_limit_strain(double radius_over_thickness);

/// (n_triangles, 2) major true strain of the outer and the inner face where bending is at least a third of
/// it: elsewhere, where it is not a number, the sheet is stretched, and the forming limit judges it. Strains
/// are means over one thickness around each triangle, for curvature is uneven from triangle to triangle.
struct BentFaces {
  Eigen::MatrixX2d judged;
  /// Where a cut edge crosses a bend, out to three thicknesses, the edge bends more sharply than the rest: by
  /// a third to two thirds in trials. The specimens of bend tests have such edges too, so their least radius
  /// is compared with the strain farther in, if the same bend is as wide.
  Eigen::MatrixX2d beside_edges;
};
/// @param edges  see edge_strains
BentFaces bent_faces(const SheetFields& fields, const std::vector<EdgeStrain>& edges);

/// The most strained of bent faces.
struct BentFibre {
  int triangle = -1;  ///< -1: nothing is bent
  double strain = 0;  ///< major true strain of the face
};
BentFibre worst_bend(const Eigen::MatrixX2d& faces);

}  // namespace halftool::solver
