#pragma once
#include <Eigen/Core>
#include <array>
#include <cmath>

#include "solver/material/stress_update.hpp"

namespace halftool::solver {

/// Constants of Hill's quadratic yield condition in the plane of the sheet,
/// G s1^2 + F s2^2 + H (s1 - s2)^2 + 2 N s12^2 = sigma^2, axis 1 along the rolling direction and sigma the
/// yield stress along it, hence G + H = 1. Through-thickness shear does not occur. Source: Hill, Proc. R.
/// Soc. Lond. A 193 (1948) 281-297; constants from r-values as in Hill (1950) ch. XII.
struct HillConstants {
  double F = 0.5, G = 0.5, H = 0.5, N = 1.5;  ///< these values: von Mises

  HillConstants() = default;
  explicit HillConstants(const RValues& r)
      : F(r.r0 / (r.r90 * (1 + r.r0))),
        G(1 / (1 + r.r0)),
        H(r.r0 / (1 + r.r0)),
        N((1 + 2 * r.r45) * (r.r0 + r.r90) / (2 * r.r90 * (1 + r.r0))) {}
};

/// Stress under Hill yield and how it follows the strain: d stress / d strain = S - normal normal^T, S with
/// the entries below and zero elsewhere.
struct HillPointStress : PointAnswer {
  double mean = 0, coupling = 0, difference = 0, shear = 0;  ///< S11, S12 = S21, S22, S33 [MPa]

  void set_stiffness(const PlaneModuli& moduli) {
    mean = moduli.mean;
    coupling = 0;
    difference = shear = moduli.shear;
  }
  /// Entry of J^T S J.
  [[nodiscard]] double stiffness(const Eigen::Matrix3d& J, int row, int column) const {
    return mean * J(0, row) * J(0, column) + difference * J(1, row) * J(1, column) +
           shear * J(2, row) * J(2, column) +
           coupling * (J(0, row) * J(1, column) + J(1, row) * J(0, column));
  }
  [[nodiscard]] Eigen::Matrix3d tangent() const {
    Eigen::Matrix3d d = -normal * normal.transpose();
    d.diagonal() += Eigen::Vector3d(mean, difference, shear);
    d(0, 1) += coupling;
    d(1, 0) += coupling;
    return d;
  }
};

/// Hill's yield condition with isotropic plane elasticity, for stress in the coordinates of
/// plane_coordinates.hpp: x^T P x = sigma^2 with x = stress - [2 s33, 0, 0]. Made once a sheet; the return
/// map works in the eigenvectors of D^(1/2) P D^(1/2), D = diag(mean, shear, shear), in which it is diagonal
/// (Simo and Hughes 1998, ch. 3, for the isotropic sheet).
class HillPlane {
 public:
  using Point = HillPointStress;

  HillPlane(const PlaneModuli& moduli, const HillConstants& c)
      : moduli_(moduli),
        p_mean_(0.25 * (c.G + c.F)),
        p_difference_(0.25 * (c.G + c.F) + c.H),
        p_coupling_(0.25 * (c.G - c.F)),
        p_shear_(0.5 * c.N),
        root_mean_(std::sqrt(moduli.mean)),
        root_shear_(std::sqrt(moduli.shear)) {
    const double m11 = p_mean_ * moduli.mean;
    const double m22 = p_difference_ * moduli.shear;
    const double m12 = p_coupling_ * root_mean_ * root_shear_;
    const double angle = 0.5 * std::atan2(2 * m12, m11 - m22);
    cos_ = std::cos(angle);
    sin_ = std::sin(angle);
    rates_ = {cos_ * cos_ * m11 + 2 * cos_ * sin_ * m12 + sin_ * sin_ * m22,
              sin_ * sin_ * m11 - 2 * cos_ * sin_ * m12 + cos_ * cos_ * m22, p_shear_ * moduli.shear};
  }

  [[nodiscard]] const PlaneModuli& moduli() const { return moduli_; }
  [[nodiscard]] const std::array<double, 3>& rates() const { return rates_; }  ///< eigenvalues [MPa]

  /// P x, the direction of plastic flow, strain-like.
  [[nodiscard]] Eigen::Vector3d flow(const Eigen::Vector3d& x) const {
    return {p_mean_ * x[0] + p_coupling_ * x[1], p_coupling_ * x[0] + p_difference_ * x[1], p_shear_ * x[2]};
  }
  /// Stress that the yield condition compares with the flow stress [MPa].
  [[nodiscard]] double equivalent_stress(const Eigen::Vector3d& stress, double normal_stress) const {
    const Eigen::Vector3d x = stress - Eigen::Vector3d(2 * normal_stress, 0, 0);
    return std::sqrt(x.dot(flow(x)));
  }
  /// Components of x along the eigenvectors, and back.
  [[nodiscard]] std::array<double, 3> components(const Eigen::Vector3d& x) const {
    const double mean = x[0] / root_mean_;
    const double difference = x[1] / root_shear_;
    return {cos_ * mean + sin_ * difference, cos_ * difference - sin_ * mean, x[2] / root_shear_};
  }
  [[nodiscard]] Eigen::Vector3d stress_of(const std::array<double, 3>& w) const {
    return {root_mean_ * (cos_ * w[0] - sin_ * w[1]), root_shear_ * (sin_ * w[0] + cos_ * w[1]),
            root_shear_ * w[2]};
  }
  /// Elastic stiffness with each eigenvector's share scaled.
  void scale_stiffness(const std::array<double, 3>& scale, HillPointStress& point) const {
    point.mean = moduli_.mean * (cos_ * cos_ * scale[0] + sin_ * sin_ * scale[1]);
    point.difference = moduli_.shear * (sin_ * sin_ * scale[0] + cos_ * cos_ * scale[1]);
    point.coupling = root_mean_ * root_shear_ * cos_ * sin_ * (scale[0] - scale[1]);
    point.shear = moduli_.shear * scale[2];
  }

 private:
  PlaneModuli moduli_;
  double p_mean_, p_difference_, p_coupling_, p_shear_;  // P11, P22, P12, P33
  double root_mean_, root_shear_;                        // of D
  double cos_, sin_;                                     // of the eigenvectors
  std::array<double, 3> rates_;
};

/// Plane plasticity under Hill's yield condition with prescribed normal stress s33, implicit; arguments and
/// return as update_stress of stress_update.hpp. All axes are those of the material: 1 is the rolling
/// direction.
template <class Curve>
bool update_stress(const HillPlane& hill, const Curve& curve, const Eigen::Vector3d& strain,
                   const Eigen::Vector3d& plastic_strain, double equivalent_plastic_strain,
                   double normal_stress, HillPointStress& out) {
  out = elastic_stress<HillPointStress>(hill.moduli(), strain, plastic_strain, equivalent_plastic_strain,
                                        normal_stress);
  FlowStress flow = flow_stress(curve, equivalent_plastic_strain);
  out.flow_stress = flow.stress;
  const Eigen::Vector3d pressure(2 * normal_stress, 0, 0);
  const Eigen::Vector3d trial = out.stress - pressure;
  const double equivalent2 = trial.dot(hill.flow(trial));
  if (equivalent2 <= flow.stress * flow.stress) return true;
  if (!(equivalent2 < 1e300)) return false;

  const std::array<double, 3>& rates = hill.rates();
  std::array<double, 3> w = hill.components(trial);
  std::array<double, 3> parts;
  for (std::size_t i = 0; i < 3; ++i) parts[i] = std::sqrt(rates[i]) * std::abs(w[i]);
  const double g = plastic_multiplier(curve, equivalent_plastic_strain, parts, rates, flow);
  if (!(g >= 0)) return false;

  const double ratio = g / flow.stress;
  std::array<double, 3> shrink;
  std::array<double, 3> direction;
  double spread = 0;  // (P x)^T S (P x)
  for (std::size_t i = 0; i < 3; ++i) {
    shrink[i] = 1 / (1 + rates[i] * ratio);
    w[i] *= shrink[i];
    direction[i] = shrink[i] * rates[i] * w[i];
    spread += rates[i] * w[i] * direction[i];
  }
  const Eigen::Vector3d x = hill.stress_of(w);
  out.stress = x + pressure;
  out.plastic_strain += ratio * hill.flow(x);
  out.equivalent_plastic_strain += g;
  out.flow_stress = flow.stress;
  hill.scale_stiffness(shrink, out);
  // Linearised consistency: d(ratio) = (S P x . d strain) / denominator.
  const double hardening = flow.stress * flow.stress * flow.slope / (1 - ratio * flow.slope);
  out.normal = hill.stress_of(direction) / std::sqrt(hardening + spread);
  return true;
}

}  // namespace halftool::solver
