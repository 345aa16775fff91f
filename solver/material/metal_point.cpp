#include "solver/material/metal_point.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <cmath>
#include <stdexcept>

namespace halftool::solver {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector3d;

/// Green-Lagrange strain of a logarithmic one, both [11, 22, 2*12].
Vector3d green_strain(const Vector3d& e) {
  Matrix2d log;
  log << e[0], 0.5 * e[2], 0.5 * e[2], e[1];
  const Eigen::SelfAdjointEigenSolver<Matrix2d> spectrum(log);
  const Eigen::Vector2d stretch = (0.5 * ((2 * spectrum.eigenvalues().array()).exp() - 1)).matrix();
  const Matrix2d green = spectrum.eigenvectors() * stretch.asDiagonal() * spectrum.eigenvectors().transpose();
  return {green(0, 0), green(1, 1), 2 * green(0, 1)};
}

constexpr double kNegligible = 1e-9;  // [MPa]

}  // namespace

MetalPoint::MetalPoint(const SheetMaterial& material)
    : section_(material, 1),
      history_(static_cast<std::size_t>(section_.n_history())),
      tried_history_(history_) {}

Vector3d MetalPoint::try_strain(const Vector3d& strain, double normal_stress) {
  SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = 1;
  frozen.outer_pressure = frozen.inner_pressure = -normal_stress;
  const SectionStrain section_strain{green_strain(strain), Vector3d::Zero()};
  if (!section_.respond(section_strain, frozen, &accepted_, &tried_, response_,
                        {history_.data(), tried_history_.data()}))
    throw std::runtime_error("metal point: no stress");
  tried_strain_ = strain;
  return section_.sample(section_strain, frozen, &tried_, 0, tried_history_.data()).stress;
}

void MetalPoint::accept() {
  accepted_ = tried_;
  history_ = tried_history_;
  strain_ = tried_strain_;
}

Vector3d MetalPoint::go(const Vector3d& strain, double normal_stress) {
  Vector3d stress = try_strain(strain, normal_stress);
  accept();
  return stress;
}

double MetalPoint::pull(double strain, int n_steps, int axis) {
  const double start = strain_[axis];
  const int across = 1 - axis;
  Vector3d stress = Vector3d::Zero();
  for (int step = 1; step <= n_steps; ++step) {
    Vector3d at = strain_;
    at[axis] = start + (strain - start) * step / n_steps;
    at[across] -= 0.5 * (at[axis] - strain_[axis]);
    double last = 0;
    double last_stress = 0;
    for (int i = 0;; ++i) {
      if (i == 100) throw std::runtime_error("metal point: stress across is not to be had at zero");
      stress = try_strain(at);
      if (std::abs(stress[across]) < kNegligible) break;
      const double slope =
          i == 0 ? section_.material().youngs_modulus : (stress[across] - last_stress) / (at[across] - last);
      last = at[across];
      last_stress = stress[across];
      at[across] -= stress[across] / slope;
    }
    accept();
  }
  return stress[axis];
}

double MetalPoint::load(double stress) {
  const MetalPoint start = *this;
  double low = strain_[0] - 0.05;
  double high = strain_[0] + 0.05;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    *this = start;
    (pull(middle) < stress ? low : high) = middle;
  }
  return strain_[0];
}

}  // namespace halftool::solver
