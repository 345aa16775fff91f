#pragma once
#include <Eigen/Core>

#include "solver/material/stress_update.hpp"

namespace halftool::solver {

/// Stress under Yld2000-2d yield and how it follows the strain: d stress / d strain = S - normal normal^T.
struct YldPointStress : PointAnswer {
  Eigen::Matrix3d S;  ///< symmetric [MPa]

  void set_stiffness(const PlaneModuli& moduli) {
    S = Eigen::Vector3d(moduli.mean, moduli.shear, moduli.shear).asDiagonal();
  }
  /// Entry of J^T S J.
  [[nodiscard]] double stiffness(const Eigen::Matrix3d& J, int row, int column) const {
    return J.col(row).dot(S * J.col(column));
  }
  [[nodiscard]] Eigen::Matrix3d tangent() const { return S - normal * normal.transpose(); }
};

/// Equivalent stress and its derivatives.
struct EquivalentStress {
  double value = 0;          ///< [MPa]
  Eigen::Vector3d gradient;  ///< direction of plastic flow
  Eigen::Matrix3d hessian;   ///< [1/MPa]
};

/// Yield condition Yld2000-2d of the plane of the sheet, axis 1 along the rolling direction: Barlat, Brem,
/// Yoon, Chung, Dick, Lege, Pourboghrat, Choi and Chu, Int. J. Plast. 19 (2003) 1297-1319,
///   |X'1 - X'2|^a + |2 X''2 + X''1|^a + |2 X''1 + X''2|^a = 2 sigma^a,
/// X'i and X''i the principal values of two linear transforms of the stress; convex (same source). In
/// coordinates [11 + 22, 11 - 22, 2*12] the first term is R'^a and the others |3 S''/2 +- R''/2|^a, with
/// S = X1 + X2 and R = |X1 - X2|: no eigenvectors, and an even function of R'' is smooth where principal
/// values meet. With the deviator s of the in-plane stress alone, X'11 - X'22 = alpha1 s11 - alpha2 s22, 2
/// X''11 + X''22 = 2 alpha5 s11 + alpha6 s22 and X''11 + 2 X''22 = alpha3 s11 + 2 alpha4 s22: with
/// coefficients above 0 no stress but zero has all of them zero, so that every direction yields.
///
/// The return map works in y = [sqrt(shear/mean) x1, x2, x3], x = stress - [2 s33, 0, 0], in which elasticity
/// is `shear` times unity and the implicit return without hardening is the nearest point. Made once a sheet.
class YldPlane {
 public:
  using Point = YldPointStress;

  YldPlane(const PlaneModuli& moduli, const Yld2000& yield);

  [[nodiscard]] const PlaneModuli& moduli() const { return moduli_; }
  /// sqrt(mean/shear): the first component of x over that of y.
  [[nodiscard]] double stretch() const { return stretch_; }

  /// Whether the equivalent stress is above a limit [MPa]; true if it is not finite.
  [[nodiscard]] bool exceeds(const Eigen::Vector3d& y, double limit) const;
  /// @param scale  of the order of the stress [MPa], keeps powers within range
  [[nodiscard]] EquivalentStress equivalent(const Eigen::Vector3d& y, double scale) const;
  /// Stress that the yield condition compares with the flow stress [MPa].
  /// @param stress  [11 + 22, 11 - 22, 2*12] [MPa]
  [[nodiscard]] double equivalent_stress(const Eigen::Vector3d& stress, double normal_stress) const;

 private:
  struct Parts;

  PlaneModuli moduli_;
  double exponent_;
  double stretch_;
  int whole_power_ = -1;  ///< a/2 - 1 where that is whole
  Eigen::RowVector2d first_, second_sum_, second_difference_;
  double first_shear_, second_shear_;

  [[nodiscard]] double power(double square) const;
  [[nodiscard]] double turn_stiffness(const Parts& p) const;
};

}  // namespace halftool::solver
