#pragma once
#include <Eigen/Core>

namespace halftool::solver {

// Symmetric plane tensors in the coordinates in which isotropic elasticity, von Mises yield and the logarithm
// of a metric are diagonal or nearly so. Strain-like tensors: [(11 + 22)/2, (11 - 22)/2, 12]; stress-like
// tensors: [11 + 22, 11 - 22, 2*12]. The two are conjugate: their dot product is the full contraction of the
// tensors.

/// @param voigt  [11, 22, 2*12]
inline Eigen::Vector3d strain_coordinates(const Eigen::Vector3d& voigt) {
  return {0.5 * (voigt[0] + voigt[1]), 0.5 * (voigt[0] - voigt[1]), 0.5 * voigt[2]};
}
/// @return [11, 22, 2*12]
inline Eigen::Vector3d voigt_strain(const Eigen::Vector3d& coordinates) {
  return {coordinates[0] + coordinates[1], coordinates[0] - coordinates[1], 2 * coordinates[2]};
}
/// @return [11, 22, 12]
inline Eigen::Vector3d voigt_stress(const Eigen::Vector3d& coordinates) {
  return {0.5 * (coordinates[0] + coordinates[1]), 0.5 * (coordinates[0] - coordinates[1]),
          0.5 * coordinates[2]};
}

}  // namespace halftool::solver
