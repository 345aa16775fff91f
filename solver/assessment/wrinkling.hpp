#pragma once
#include <Eigen/Core>

#include "solver/material/sheet_material.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// Compressive strain beyond that of uniaxial tension below which nothing is said (own choice: a bend that
/// full pressure flattens is upset by 0.01 on its flanks and does not wave).
inline constexpr double kLeastCompression = 0.02;

/// (r0 + 2 r45 + r90)/4 of the yield condition, 1 for von Mises.
double mean_r_value(const YieldCondition& yield);

/// How much of the in-plane stress compresses, |s2|/(|s1| + |s2|) with s2 < 0, on a straight path to these
/// strains: 0 up to uniaxial tension (minor = -r/(1 + r) major), 0.5 in pure shear, 1 in uniaxial compression
/// and beyond. s1 : s2 = (1 + r) e1 + r e2 : r e1 + (1 + r) e2 (Hill 1948, same in all directions of the
/// plane). The sheet itself thickens only below minor = -major.
double compressed_share(double major, double minor, double mean_r);

/// (n_triangles) compressed_share of the mid-surface's strains, 0 where the minor strain lies less than
/// kLeastCompression beyond that of uniaxial tension. A tendency to wrinkle and no limit: whether a sheet
/// waves hangs on its free length, thickness and support as well. Common practice in forming-limit diagrams,
/// no source.
Eigen::VectorXd wrinkling_tendency(const SheetFields& fields, double mean_r);

/// Whether the tool does not hold a triangle flat: its face stands off by more than 5 % of the thickness, or
/// there is no tool near.
bool is_loose(const SheetFields& fields, Eigen::Index triangle);

}  // namespace halftool::solver
