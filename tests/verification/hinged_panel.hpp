#pragma once
#include <span>
#include <vector>

#include "tests/verification/load_curve.hpp"

namespace halftool::test {

/// Shallow cylindrical panel under a force at its middle, straight edges hinged, curved ones free: it snaps
/// through.
/// Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.8, isotropic; read from
/// public reference data files that quote the paper. R = 2540, half-angle 0.1, 508 long, E = 3102.75, nu =
/// 0.3, force 3000 at share 1. Mesh: a quarter, divisions by divisions cells of two triangles.
enum class Panel { thick, thin };  // 12.7 and 6.35

struct PathPoint {
  double deflection = 0;  ///< under the force [mm]
  double share = 0;       ///< of the force
};
using PanelPath = std::vector<PathPoint>;

std::span<const PathPoint> panel_table(Panel panel);

/// The path from the unloaded panel to beyond the table's last row.
PanelPath follow_panel(Panel panel, const MeshChoice& choice);

/// The first row or point whose share is greater than those before and after it, and the top of the parabola
/// through the three.
PathPoint limit_point(std::span<const PathPoint> path);

/// Distance of a row from the path, loads and deflections over those of the table's limit point: with a path
/// that turns back in both, neither can be compared at the same value of the other.
/// @return the largest over the table
double largest_distance(const PanelPath& path, std::span<const PathPoint> table);

}  // namespace halftool::test
