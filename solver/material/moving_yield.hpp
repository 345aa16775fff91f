#pragma once
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <variant>

#include "solver/material/hill_1948.hpp"
#include "solver/material/yld2000.hpp"

namespace halftool::solver {

// Stress in this file and in those that build on it is x = stress - [2 s33, 0, 0] in the coordinates of
// plane_coordinates.hpp, [11 + 22, 11 - 22, 2*12]: what a yield condition feels. A backstress is a deviator,
// so that [11 + 22 - 2*33, 11 - 22, 2*12] hold all of it. Where the yield surface of size s has moved by b,
// stress on it is b + s e, e being a direction whose equivalent stress is 1.

/// A yield condition at a direction e.
struct YieldNormal {
  double excess = 0;         ///< 0 on the surface of size 1
  Eigen::Vector3d gradient;  ///< there that of the equivalent stress: plastic flow for one unit of multiplier
  Eigen::Matrix3d hessian;
};

/// Von Mises or Hill (1948): equivalent stress sqrt(x^T P x).
class QuadraticYield {
 public:
  explicit QuadraticYield(const PlaneModuli& moduli) : moduli_(moduli) {
    form_ = Eigen::Vector3d(0.25, 0.75, 0.75).asDiagonal();
  }
  explicit QuadraticYield(const HillPlane& hill) : moduli_(hill.moduli()) {
    for (int i = 0; i < 3; ++i) form_.col(i) = hill.flow(Eigen::Vector3d::Unit(i));
  }

  [[nodiscard]] const PlaneModuli& moduli() const { return moduli_; }
  [[nodiscard]] const Eigen::Matrix3d& form() const { return form_; }  ///< P
  [[nodiscard]] bool exceeds(const Eigen::Vector3d& x, double limit) const {
    return !(x.dot(form_ * x) <= limit * limit);
  }
  [[nodiscard]] double equivalent(const Eigen::Vector3d& x) const { return std::sqrt(x.dot(form_ * x)); }
  [[nodiscard]] YieldNormal normal(const Eigen::Vector3d& e) const {
    const Eigen::Vector3d gradient = form_ * e;
    return {0.5 * (e.dot(gradient) - 1), gradient, form_};
  }

 private:
  PlaneModuli moduli_;
  Eigen::Matrix3d form_;
};

/// Yld2000-2d in the same form.
class MovingYld2000 {
 public:
  explicit MovingYld2000(const YldPlane& yld) : yld_(yld), stretch_(yld.stretch(), 1, 1) {}

  [[nodiscard]] const PlaneModuli& moduli() const { return yld_.moduli(); }
  [[nodiscard]] bool exceeds(const Eigen::Vector3d& x, double limit) const {
    return yld_.exceeds(x.cwiseQuotient(stretch_), limit);
  }
  [[nodiscard]] double equivalent(const Eigen::Vector3d& x) const { return yld_.equivalent_stress(x, 0); }
  [[nodiscard]] YieldNormal normal(const Eigen::Vector3d& e) const {
    const EquivalentStress at = yld_.equivalent(e.cwiseQuotient(stretch_), 1);
    const Eigen::Vector3d over = stretch_.cwiseInverse();
    return {at.value - 1, at.gradient.cwiseProduct(over), over.asDiagonal() * at.hessian * over.asDiagonal()};
  }

 private:
  YldPlane yld_;
  Eigen::Vector3d stretch_;
};

/// Stress at which a hardening law lets a point flow, as a function of direction e and multiplier g.
struct HardenedStress {
  Eigen::Vector3d stress;         ///< [MPa]
  Eigen::Matrix3d by_direction;   ///< d stress / d e [MPa]
  Eigen::Vector3d by_multiplier;  ///< d stress / d g [MPa]
};

/// Young's modulus over that of the virgin sheet.
struct ModulusFall {
  double lost = 0;  ///< share that is gone in the end
  double rate = 0;

  [[nodiscard]] double share(double equivalent_plastic_strain) const {
    return lost > 0 ? 1 + lost * std::expm1(-rate * equivalent_plastic_strain) : 1;
  }
};

}  // namespace halftool::solver
