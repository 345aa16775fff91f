#include "solver/material/section_layers.hpp"

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

/// k A k as [11, 22, 2*12]. @param k  [k11, k22, 2 k12]  @param A  [A11, A22, A12]
Vector3d curvature_square(const Vector3d& k, const Vector3d& A) {
  const double g2 = 0.25 * k[2] * k[2];
  return {A[0] * k[0] * k[0] + A[2] * k[0] * k[2] + A[1] * g2,
          A[0] * g2 + A[2] * k[2] * k[1] + A[1] * k[1] * k[1],
          A[0] * k[0] * k[2] + 2 * A[2] * (k[0] * k[1] + g2) + A[1] * k[2] * k[1]};
}

/// d curvature_square(i) / d k(j).
Matrix3d curvature_square_gradient(const Vector3d& k, const Vector3d& A) {
  Matrix3d g;
  g << 2 * A[0] * k[0] + A[2] * k[2], 0, A[2] * k[0] + 0.5 * A[1] * k[2],  //
      0, A[2] * k[2] + 2 * A[1] * k[1], 0.5 * A[0] * k[2] + A[2] * k[1],   //
      A[0] * k[2] + 2 * A[2] * k[1], 2 * A[2] * k[0] + A[1] * k[2], A[0] * k[0] + A[2] * k[2] + A[1] * k[1];
  return g;
}

/// Sum of stress(i) times the Hessian of curvature_square(i). @param stress  [11, 22, 12]
Matrix3d curvature_square_hessian(const Vector3d& stress, const Vector3d& A) {
  const double h12 = 2 * stress[2] * A[2];
  const double h13 = stress[0] * A[2] + stress[2] * A[0];
  const double h23 = stress[1] * A[2] + stress[2] * A[1];
  Matrix3d h;
  h << 2 * stress[0] * A[0], h12, h13,  //
      h12, 2 * stress[1] * A[1], h23,   //
      h13, h23, 0.5 * (stress[0] * A[1] + stress[1] * A[0]) + stress[2] * A[2];
  return h;
}

}  // namespace

LayerMetric layer_metric(const SectionStrain& strain, const Vector3d& inverse_metric) {
  return {Vector3d(1, 0, 0) + sum_and_difference(strain.membrane), -sum_and_difference(strain.curvature),
          0.5 * sum_and_difference(curvature_square(strain.curvature, inverse_metric))};
}

/// Resultants and tangent from the sums: with G(z) = E - z k + z^2/2 k A k, d G/d k = -z I + z^2/2 R.
void assemble(const LayerSums& sums, const Vector3d& curvature, const Vector3d& A,
              SectionResponse& response) {
  const Matrix3d R = curvature_square_gradient(curvature, A);
  const Vector3d second = sums.voigt_stress_sum(2);
  response.resultant.head<3>() = sums.voigt_stress_sum(0);
  response.resultant.tail<3>() = -sums.voigt_stress_sum(1) + 0.5 * R.transpose() * second;

  const Matrix3d D2 = sums.voigt_stiffness_sum(2);
  const Matrix3d D3R = sums.voigt_stiffness_sum(3) * R;
  const Matrix3d coupling = -sums.voigt_stiffness_sum(1) + 0.5 * D2 * R;
  response.tangent.topLeftCorner<3, 3>() = sums.voigt_stiffness_sum(0);
  response.tangent.topRightCorner<3, 3>() = coupling;
  response.tangent.bottomLeftCorner<3, 3>() = coupling.transpose();
  response.tangent.bottomRightCorner<3, 3>() = D2 - 0.5 * (D3R + D3R.transpose()) +
                                               0.25 * R.transpose() * sums.voigt_stiffness_sum(4) * R +
                                               0.5 * curvature_square_hessian(second, A);
}

}  // namespace halftool::solver
