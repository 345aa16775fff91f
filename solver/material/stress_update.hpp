#pragma once
#include <Eigen/Core>
#include <cmath>

#include "solver/material/hardening.hpp"
#include "solver/material/plane_coordinates.hpp"
#include "solver/material/plastic_multiplier.hpp"

namespace halftool::solver {

/// Isotropic plane elasticity, diagonal in the coordinates of plane_coordinates.hpp: stress = [mean * e0,
/// shear * e1, shear * e2] + [normal * s33, 0, 0].
struct PlaneModuli {
  double mean = 0;        ///< 2 E / (1 - nu) [MPa]
  double shear = 0;       ///< 2 E / (1 + nu) [MPa]
  double normal = 0;      ///< 2 nu / (1 - nu)
  double compliance = 0;  ///< 1 / E [1/MPa]
  double poisson = 0;     ///< nu / E [1/MPa]

  PlaneModuli() = default;
  PlaneModuli(double youngs_modulus, double poissons_ratio)
      : mean(2 * youngs_modulus / (1 - poissons_ratio)),
        shear(2 * youngs_modulus / (1 + poissons_ratio)),
        normal(2 * poissons_ratio / (1 - poissons_ratio)),
        compliance(1 / youngs_modulus),
        poisson(poissons_ratio / youngs_modulus) {}
};

/// Stress at a point, in the coordinates of plane_coordinates.hpp, whatever the yield surface.
struct PointAnswer {
  Eigen::Vector3d stress;          ///< [MPa], includes the part of the prescribed normal stress
  Eigen::Vector3d normal;          ///< [MPa^(1/2)], see PointStress; zero while elastic
  Eigen::Vector3d plastic_strain;  ///< at the end
  double equivalent_plastic_strain = 0;
  double flow_stress = 0;  ///< at the end [MPa]; 0 where plastic flow is suppressed
};

/// Stress under von Mises yield and how it follows the strain: d stress / d strain = diag(mean, shear, shear)
/// - normal normal^T.
struct PointStress : PointAnswer {
  double mean = 0, shear = 0;  ///< [MPa]

  void set_stiffness(const PlaneModuli& moduli) {
    mean = moduli.mean;
    shear = moduli.shear;
  }
  /// Entry of J^T diag(mean, shear, shear) J.
  [[nodiscard]] double stiffness(const Eigen::Matrix3d& J, int row, int column) const {
    return mean * J(0, row) * J(0, column) + shear * (J(1, row) * J(1, column) + J(2, row) * J(2, column));
  }
  [[nodiscard]] Eigen::Matrix3d tangent() const {
    Eigen::Matrix3d d = -normal * normal.transpose();
    d.diagonal() += Eigen::Vector3d(mean, shear, shear);
    return d;
  }
};

/// The point answer that belongs to a yield condition; isotropic elasticity alone stands for von Mises.
template <class Yield>
struct PointOf {
  using type = typename Yield::Point;
};
template <>
struct PointOf<PlaneModuli> {
  using type = PointStress;
};

/// Elastic answer to an elastic strain. Point: PointStress, HillPointStress or YldPointStress.
template <class Point = PointStress>
Point elastic_stress(const PlaneModuli& moduli, const Eigen::Vector3d& strain,
                     const Eigen::Vector3d& plastic_strain, double equivalent_plastic_strain,
                     double normal_stress) {
  const Eigen::Vector3d elastic = strain - plastic_strain;
  Point out;
  out.stress = {moduli.mean * elastic[0] + moduli.normal * normal_stress, moduli.shear * elastic[1],
                moduli.shear * elastic[2]};
  out.set_stiffness(moduli);
  out.normal.setZero();
  out.plastic_strain = plastic_strain;
  out.equivalent_plastic_strain = equivalent_plastic_strain;
  return out;
}

/// Plane J2 plasticity with prescribed normal stress s33, implicit: Simo and Taylor (1986), Simo and Hughes
/// (1998) ch. 3 for s33 = 0. Yield sees the deviator only, hence (s11 - s33, s22 - s33, s12); s33 is constant
/// in a step.
/// @param strain         logarithmic, [(11 + 22)/2, (11 - 22)/2, 12]
/// @param plastic_strain of the last accepted state, same coordinates
/// @param normal_stress  s33 [MPa]
/// @return false if the return map did not converge (strain not finite)
template <class Curve>
bool update_stress(const PlaneModuli& moduli, const Curve& curve, const Eigen::Vector3d& strain,
                   const Eigen::Vector3d& plastic_strain, double equivalent_plastic_strain,
                   double normal_stress, PointStress& out) {
  out = elastic_stress(moduli, strain, plastic_strain, equivalent_plastic_strain, normal_stress);
  FlowStress flow = flow_stress(curve, equivalent_plastic_strain);
  out.flow_stress = flow.stress;
  const double trial_mean = out.stress[0] - 2 * normal_stress;
  const double mean_part = 0.25 * trial_mean * trial_mean;
  const double shear_part = 0.75 * (out.stress[1] * out.stress[1] + out.stress[2] * out.stress[2]);
  const double equivalent2 = mean_part + shear_part;
  if (equivalent2 <= flow.stress * flow.stress) return true;
  if (!(equivalent2 < 1e300)) return false;

  const double a = 0.25 * moduli.mean;   // E / (2 (1 - nu))
  const double b = 0.75 * moduli.shear;  // 3 G
  const double g = plastic_multiplier<Curve, 2>(curve, equivalent_plastic_strain,
                                                {std::sqrt(mean_part), std::sqrt(shear_part)}, {a, b}, flow);
  if (!(g >= 0)) return false;

  const double ratio = g / flow.stress;
  const double shrink_mean = 1 / (1 + a * ratio);
  const double shrink_shear = 1 / (1 + b * ratio);
  const double mean = trial_mean * shrink_mean;
  out.stress = {mean + 2 * normal_stress, out.stress[1] * shrink_shear, out.stress[2] * shrink_shear};
  out.plastic_strain += ratio * Eigen::Vector3d(0.25 * mean, 0.75 * out.stress[1], 0.75 * out.stress[2]);
  out.equivalent_plastic_strain += g;
  out.flow_stress = flow.stress;

  out.mean = moduli.mean * shrink_mean;
  out.shear = moduli.shear * shrink_shear;
  // Linearised consistency: d(ratio) = 2 (flow direction . d strain) / denominator.
  const Eigen::Vector3d direction(0.5 * out.mean * mean, 1.5 * out.shear * out.stress[1],
                                  1.5 * out.shear * out.stress[2]);
  const double hardening = 2 * flow.stress * flow.stress * flow.slope / (1 - ratio * flow.slope);
  const double denominator =
      hardening + 0.125 * out.mean * mean * mean +
      1.125 * out.shear * (out.stress[1] * out.stress[1] + out.stress[2] * out.stress[2]);
  out.normal = direction / std::sqrt(2 * denominator);
  return true;
}

/// ln(t/t0) at a point: elastic part of s33 and of the in-plane stress, and plastic incompressibility.
inline double thickness_strain(const PlaneModuli& moduli, const PointAnswer& point, double normal_stress) {
  return moduli.compliance * normal_stress - moduli.poisson * point.stress[0] - 2 * point.plastic_strain[0];
}

/// Stored elastic energy per volume, the part of s33 included [MPa].
/// @param strain  total logarithmic strain, [(11 + 22)/2, (11 - 22)/2, 12]
inline double elastic_energy(const PlaneModuli& moduli, const PointAnswer& point,
                             const Eigen::Vector3d& strain, double normal_stress) {
  const double through = moduli.compliance * normal_stress - moduli.poisson * point.stress[0];
  return 0.5 * (point.stress.dot(strain - point.plastic_strain) + normal_stress * through);
}

/// Von Mises stress of a plane state with normal stress.
/// @param stress  [11 + 22, 11 - 22, 2*12] [MPa]
inline double von_mises(const Eigen::Vector3d& stress, double normal_stress) {
  const double mean = stress[0] - 2 * normal_stress;
  return std::sqrt(0.25 * mean * mean + 0.75 * (stress[1] * stress[1] + stress[2] * stress[2]));
}

}  // namespace halftool::solver
