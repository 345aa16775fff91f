#include "solver/material/equivalent_strain.hpp"

#include <Eigen/Cholesky>
#include <cmath>

#include "solver/material/plane_coordinates.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;

double conjugate(const QuadraticYield& yield, const Vector3d& strain) {
  return std::sqrt(strain.dot(yield.form().llt().solve(strain)));
}

/// Least value of f^2/2 - strain . x by Newton's method with a line search: there f is the conjugate of the
/// strain. f has no curvature in places, so that the matrix is lifted a little.
double conjugate(const MovingYld2000& yield, const Vector3d& strain) {
  constexpr int kMost = 100;
  constexpr double kNear = 1e-10, kLift = 1e-9;
  const auto value = [&](const Vector3d& x) {
    return 0.5 * std::pow(yield.equivalent(x), 2) - strain.dot(x);
  };
  Vector3d x = Vector3d(4 * strain[0], strain[1] * 4 / 3, strain[2] * 4 / 3);  // that of von Mises
  x *= strain.dot(x) / std::pow(yield.equivalent(x), 2);
  for (int i = 0; i < kMost; ++i) {
    const double f = yield.equivalent(x);
    const YieldNormal at = yield.normal(x / f);
    const Vector3d slope = f * at.gradient - strain;
    if (slope.norm() <= kNear * strain.norm()) break;
    const Eigen::Matrix3d curvature = at.gradient * at.gradient.transpose() + at.hessian +
                                      kLift * at.gradient.squaredNorm() * Eigen::Matrix3d::Identity();
    const Vector3d step = -curvature.ldlt().solve(slope);
    double length = 1;
    while (length > 1e-6 && value(x + length * step) > value(x) + 1e-4 * length * slope.dot(step))
      length *= 0.5;
    x += length * step;
  }
  return strain.dot(x) / yield.equivalent(x);
}

}  // namespace

double equivalent_strain(const MovingYield& yield, const Eigen::Vector3d& strain) {
  const double size = strain.norm();
  if (size == 0) return 0;
  const Vector3d direction = strain_coordinates(strain / size);
  return size * std::visit([&](const auto& of) { return conjugate(of, direction); }, yield);
}

}  // namespace halftool::solver
