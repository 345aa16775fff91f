#pragma once
#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "solver/material/moving_yield.hpp"

namespace halftool::solver {

/// Stress at a point whose yield surface moves, and how it follows the strain. The consistent tangent is not
/// symmetric (recovery of backstress within an increment turns it out of line with plastic flow; with the
/// length of the increment the difference goes to nothing): balance uses its symmetric part.
struct MovingPointStress : PointAnswer {
  Eigen::Matrix3d exact;      ///< d stress / d strain [MPa]
  Eigen::Matrix3d symmetric;  ///< its symmetric part

  void set_stiffness(const PlaneModuli& moduli) {
    exact = symmetric = Eigen::Vector3d(moduli.mean, moduli.shear, moduli.shear).asDiagonal();
  }
  /// Entry of J^T symmetric J.
  [[nodiscard]] double stiffness(const Eigen::Matrix3d& J, int row, int column) const {
    return J.col(row).dot(symmetric * J.col(column));
  }
  [[nodiscard]] const Eigen::Matrix3d& tangent() const { return exact; }
};

/// Place of the return map: direction and multiplier, and how far both are from the answer.
struct KinematicReturn {
  Eigen::Vector3d e;         ///< see moving_yield.hpp
  double g = 0;              ///< increment of equivalent plastic strain
  YieldNormal normal;        ///< at e
  HardenedStress hardened;   ///< at e and g
  Eigen::Vector3d residual;  ///< stress of the law less stress of the strain [MPa]

  template <class Yield, class Law>
  void evaluate(const Yield& yield, const Law& law, double committed, const double* state,
                const Eigen::Vector3d& trial, const Eigen::Vector3d& stiffness) {
    normal = yield.normal(e);
    hardened = law.at(yield, committed, state, e, g);
    residual = hardened.stress + g * stiffness.cwiseProduct(normal.gradient) - trial;
  }
  /// @param scale  [MPa]
  [[nodiscard]] double merit(double scale) const {
    return residual.squaredNorm() / (scale * scale) + normal.excess * normal.excess;
  }
};

/// Start of the return map: the direction of the trial stress from the committed centre, and the multiplier
/// of one step along the normal there (more steps save fewer of Newton's than they cost).
template <class Yield, class Law>
void start_from_centre(const Yield& yield, const Law& law, double committed, const double* state,
                       const Eigen::Vector3d& trial, const Eigen::Vector3d& stiffness, KinematicReturn& at) {
  at.e = trial - law.centre(state);
  at.e /= yield.equivalent(at.e);
  at.g = 0;
  at.evaluate(yield, law, committed, state, trial, stiffness);
  const Eigen::Vector3d& n = at.normal.gradient;
  const double relaxes = n.dot(stiffness.cwiseProduct(n)) + n.dot(at.hardened.by_multiplier);
  at.g = std::max(0.0, -n.dot(at.residual) / relaxes);
  at.evaluate(yield, law, committed, state, trial, stiffness);
}

/// Newton's method in direction and multiplier with a line search on the sum of squared residuals.
/// @param inverse  of d residual / d e at the answer
/// @return false if it did not arrive
template <class Yield, class Law>
bool return_to_moved_yield(const Yield& yield, const Law& law, double committed, const double* state,
                           const Eigen::Vector3d& trial, const Eigen::Vector3d& stiffness,
                           KinematicReturn& at, Eigen::Matrix3d& inverse) {
  constexpr int kMostSteps = 60;
  constexpr double kShortest = 1e-5;
  const double scale = law.yield_size(committed);
  const double tolerance = 1e-12 + 1e-14 * trial.norm() / scale;
  double merit = at.merit(scale);
  for (int step = 0; step < kMostSteps; ++step) {
    const Eigen::Vector3d& n = at.normal.gradient;
    inverse = (at.hardened.by_direction + at.g * (stiffness.asDiagonal() * at.normal.hessian)).inverse();
    if (merit <= tolerance * tolerance) return true;
    const Eigen::Vector3d along = at.hardened.by_multiplier + stiffness.cwiseProduct(n);
    const Eigen::Vector3d eased = inverse * at.residual;
    const Eigen::Vector3d eased_along = inverse * along;
    const double change = (at.normal.excess - n.dot(eased)) / n.dot(eased_along);
    const Eigen::Vector3d turn = -eased - change * eased_along;
    double share = change < 0 ? std::min(1.0, -0.9 * at.g / change) : 1.0;
    KinematicReturn next;
    for (;; share *= 0.5) {
      if (!(share >= kShortest)) return false;
      next.e = at.e + share * turn;
      next.g = at.g + share * change;
      next.evaluate(yield, law, committed, state, trial, stiffness);
      const double next_merit = next.merit(scale);
      if (next_merit <= (1 - 1e-4 * share) * merit) {
        merit = next_merit;
        break;
      }
    }
    at = next;
  }
  return false;
}

/// Plane plasticity with a yield surface that moves, prescribed normal stress s33, implicit. Elasticity is
/// that of the modulus at the committed plastic strain.
/// @param strain, plastic_strain, normal_stress  as update_stress of stress_update.hpp
/// @param moduli    at the committed plastic strain
/// @param state     of the law, committed
/// @param next      of the law, written
/// @param work      of the stress on the increment's plastic strain, per volume [MPa]
/// @return false if the return map did not converge
template <class Yield, class Law>
bool update_stress(const Yield& yield, const Law& law, const PlaneModuli& moduli,
                   const Eigen::Vector3d& strain, const Eigen::Vector3d& plastic_strain,
                   double equivalent_plastic_strain, double normal_stress, const double* state, double* next,
                   MovingPointStress& out, double& work) {
  out = elastic_stress<MovingPointStress>(moduli, strain, plastic_strain, equivalent_plastic_strain,
                                          normal_stress);
  out.flow_stress = law.yield_size(equivalent_plastic_strain);
  work = 0;
  const Eigen::Vector3d pressure(2 * normal_stress, 0, 0);
  const Eigen::Vector3d trial = out.stress - pressure;
  const Eigen::Vector3d over = trial - law.centre(state);
  if (!yield.exceeds(over, out.flow_stress)) {
    std::copy(state, state + law.n_values(), next);
    return true;
  }
  if (!(over.squaredNorm() < 1e300)) return false;

  const Eigen::Vector3d stiffness(moduli.mean, moduli.shear, moduli.shear);
  KinematicReturn at;
  Eigen::Matrix3d inverse;
  start_from_centre(yield, law, equivalent_plastic_strain, state, trial, stiffness, at);
  if (!return_to_moved_yield(yield, law, equivalent_plastic_strain, state, trial, stiffness, at, inverse))
    return false;

  const Eigen::Vector3d& n = at.normal.gradient;
  const Eigen::Vector3d relaxed = stiffness.cwiseProduct(n);
  const Eigen::Vector3d x = trial - at.g * relaxed;
  out.stress = x + pressure;
  out.plastic_strain += at.g * n;
  out.equivalent_plastic_strain += at.g;
  out.flow_stress = law.yield_size(out.equivalent_plastic_strain);
  law.carry(yield, state, at.e, at.g, next);
  work = at.g * x.dot(n);
  // d g = w . d strain from the consistency of direction; then stress = trial less g D n of the direction.
  const Eigen::Vector3d along = at.hardened.by_multiplier + relaxed;
  const Eigen::RowVector3d normal_eased = n.transpose() * inverse;
  const Eigen::RowVector3d w = normal_eased * stiffness.asDiagonal() / normal_eased.dot(along);
  const Eigen::Matrix3d turning = inverse * (Eigen::Matrix3d(stiffness.asDiagonal()) - along * w);
  out.exact = -relaxed * w - at.g * (stiffness.asDiagonal() * at.normal.hessian * turning);
  out.exact.diagonal() += stiffness;
  out.symmetric = 0.5 * (out.exact + out.exact.transpose());
  return true;
}

}  // namespace halftool::solver
