#pragma once
#include <Eigen/SparseCore>

#include "mesh/blank.hpp"

namespace halftool::solver {

/// How contact pressure on the tool face spreads into the sheet: a concentrated load reaches the middle of a
/// layer over a length of about its thickness (elastic half-space reasoning; common practice, no source).
/// Each triangle takes the mean over its surroundings with weights that fall linearly to zero at one
/// thickness, so that the normal stress in the metal does not grow without bound as the mesh is refined under
/// a line of contact.
/// @return (n_triangles, n_triangles) weights; with the triangles' areas the mean is
///         (spread * (area .* pressure)) ./ (spread * area)
using PressureSpread = Eigen::SparseMatrix<double, Eigen::RowMajor>;
PressureSpread make_pressure_spread(const mesh::Blank& blank);

}  // namespace halftool::solver
