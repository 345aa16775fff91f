#pragma once
#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "solver/material/yld2000.hpp"

namespace halftool::solver {

/// Place of the return map: stress on trial and plastic multiplier, and how far both are from the answer.
struct YldReturn {
  Eigen::Vector3d y;          ///< [MPa]
  double g = 0;               ///< increment of equivalent plastic strain
  EquivalentStress yield;     ///< at y
  FlowStress flow;            ///< after g
  Eigen::Vector3d flow_rule;  ///< residual [MPa]
  double consistency = 0;     ///< residual [MPa]

  void set_residual(const Eigen::Vector3d& trial, double shear) {
    flow_rule = y - trial + (g * shear) * yield.gradient;
    consistency = yield.value - flow.stress;
  }
  [[nodiscard]] double merit() const { return flow_rule.squaredNorm() + consistency * consistency; }
};

/// Start of the return map: along the trial stress, where plastic work of the increment and flow stress
/// agree.
/// @param at  holds trial stress, its equivalent stress and the committed flow stress
template <class Curve>
void start_radially(const Curve& curve, double committed, double shear, YldReturn& at) {
  constexpr int kMostSteps = 3;  // it is a guess
  const double relaxation = shear * at.yield.value * at.yield.value / at.y.squaredNorm();
  for (int i = 0; i < kMostSteps; ++i) {
    const double over = at.yield.value - relaxation * at.g - at.flow.stress;
    if (!(std::abs(over) > 1e-2 * at.flow.stress)) break;
    at.g = std::max(0.0, at.g + over / (relaxation + at.flow.slope));
    at.flow = flow_stress(curve, committed + at.g);
  }
  const double share = std::max(at.flow.stress, at.yield.value - relaxation * at.g) / at.yield.value;
  at.y *= share;
  at.yield.value *= share;
  at.yield.hessian /= share;
}

/// From the minors of the upper triangle, half the work of a general inverse. @pre not singular
inline Eigen::Matrix3d inverse_of_symmetric(const Eigen::Matrix3d& m) {
  const double c00 = m(1, 1) * m(2, 2) - m(1, 2) * m(1, 2);
  const double c01 = m(0, 2) * m(1, 2) - m(0, 1) * m(2, 2);
  const double c02 = m(0, 1) * m(1, 2) - m(0, 2) * m(1, 1);
  const double over = 1 / (m(0, 0) * c00 + m(0, 1) * c01 + m(0, 2) * c02);
  const double c12 = m(0, 1) * m(0, 2) - m(0, 0) * m(1, 2);
  Eigen::Matrix3d inverse;
  inverse << c00, c01, c02,                             //
      c01, m(0, 0) * m(2, 2) - m(0, 2) * m(0, 2), c12,  //
      c02, c12, m(0, 0) * m(1, 1) - m(0, 1) * m(0, 1);
  return over * inverse;
}

/// Newton's method with a line search on the sum of squared residuals (as Scherzinger, Comput. Methods Appl.
/// Mech. Eng. 317 (2017) 526-553, does for non-quadratic conditions: the full step alone diverges near their
/// corners).
/// @param inverse  of unity + g shear hessian at the answer
/// @return false if it did not arrive
template <class Curve>
bool return_to_yield(const YldPlane& yld, const Curve& curve, double committed, const Eigen::Vector3d& trial,
                     YldReturn& at, Eigen::Matrix3d& inverse) {
  constexpr int kMostSteps = 100;
  constexpr double kShortest = 1e-6;
  const double shear = yld.moduli().shear;
  const double tolerance = 1e-12 * at.flow.stress + 1e-14 * trial.norm();
  at.set_residual(trial, shear);
  double merit = at.merit();
  for (int step = 0; step < kMostSteps; ++step) {
    inverse = inverse_of_symmetric(Eigen::Matrix3d::Identity() + (at.g * shear) * at.yield.hessian);
    if (merit <= tolerance * tolerance) return true;
    const Eigen::Vector3d normal = shear * at.yield.gradient;
    const Eigen::Vector3d eased = inverse * normal;
    const double change = (at.consistency - at.yield.gradient.dot(inverse * at.flow_rule)) /
                          (at.yield.gradient.dot(eased) + at.flow.slope);
    const Eigen::Vector3d motion = -inverse * at.flow_rule - change * eased;
    double share = change < 0 ? std::min(1.0, -0.9 * at.g / change) : 1.0;
    YldReturn next;
    for (;; share *= 0.5) {
      if (share < kShortest) return false;
      next.y = at.y + share * motion;
      next.g = at.g + share * change;
      next.flow = flow_stress_after(curve, at.flow, committed + at.g, committed + next.g);
      next.yield = yld.equivalent(next.y, next.flow.stress);
      next.set_residual(trial, shear);
      const double next_merit = next.merit();
      if (next_merit <= (1 - 1e-4 * share) * merit) {
        merit = next_merit;
        break;
      }
    }
    at = next;
  }
  return false;
}

/// Plane plasticity under Yld2000-2d with prescribed normal stress s33, implicit; arguments and return as
/// update_stress of stress_update.hpp. All axes are those of the material: 1 is the rolling direction.
template <class Curve>
bool update_stress(const YldPlane& yld, const Curve& curve, const Eigen::Vector3d& strain,
                   const Eigen::Vector3d& plastic_strain, double equivalent_plastic_strain,
                   double normal_stress, YldPointStress& out) {
  out = elastic_stress<YldPointStress>(yld.moduli(), strain, plastic_strain, equivalent_plastic_strain,
                                       normal_stress);
  YldReturn at;
  at.flow = flow_stress(curve, equivalent_plastic_strain);
  out.flow_stress = at.flow.stress;
  const Eigen::Vector3d stretch(yld.stretch(), 1, 1);
  const Eigen::Vector3d pressure(2 * normal_stress, 0, 0);
  const Eigen::Vector3d trial = (out.stress - pressure).cwiseQuotient(stretch);
  if (!yld.exceeds(trial, at.flow.stress)) return true;
  at.y = trial;
  at.yield = yld.equivalent(trial, at.flow.stress);
  if (!(at.yield.value < 1e150)) return false;
  start_radially(curve, equivalent_plastic_strain, yld.moduli().shear, at);
  Eigen::Matrix3d inverse;
  if (!return_to_yield(yld, curve, equivalent_plastic_strain, trial, at, inverse)) return false;

  const double shear = yld.moduli().shear;
  const Eigen::Vector3d eased = inverse * at.yield.gradient;
  out.stress = at.y.cwiseProduct(stretch) + pressure;
  out.plastic_strain += at.g * at.yield.gradient.cwiseQuotient(stretch);
  out.equivalent_plastic_strain += at.g;
  out.flow_stress = at.flow.stress;
  out.S = shear * stretch.asDiagonal() * inverse * stretch.asDiagonal();
  out.normal =
      shear / std::sqrt(shear * at.yield.gradient.dot(eased) + at.flow.slope) * stretch.cwiseProduct(eased);
  return true;
}

}  // namespace halftool::solver
