#pragma once
#include <Eigen/Core>

#include "mesh/blank.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::solver {

/// How the released part lies over the formed one after the best rigid fit (least squares of the nodes,
/// weighted by their share of the area; Kabsch 1976).
struct Fit {
  mesh::Points positions;      ///< (n_nodes, 3) released part, moved onto the formed one [mm]
  Eigen::VectorXd distance;    ///< (n_nodes) between formed and fitted node [mm]
  double rms = 0;              ///< area-weighted [mm]
  double largest = 0;          ///< [mm]
  Eigen::Vector3d largest_at;  ///< formed position of the worst node [mm]
};

/// Symmetry planes are kept: the fit is that of the whole part, mirrored halves included.
Fit best_fit(const mesh::Blank& blank, const mesh::Points& formed, const mesh::Points& released);

}  // namespace halftool::solver
