#include "solver/material/section.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/material/gauss_legendre.hpp"
#include "solver/material/section_layers.hpp"
#include "solver/material/yld2000_fit.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;

void require(bool holds, const std::string& what, double value) {
  if (!holds) throw std::invalid_argument("Section: " + what + ", found " + std::to_string(value));
}
double equivalent_stress(const PlaneModuli& /*von Mises*/, const Vector3d& stress, double s33) {
  return von_mises(stress, s33);
}
double equivalent_stress(const auto& yield, const Vector3d& stress, double s33) {
  return yield.equivalent_stress(stress, s33);
}

/// The yield condition in the form in which it is computed.
using PlaneYield = std::variant<PlaneModuli, HillPlane, YldPlane>;
PlaneYield plane_yield(const PlaneModuli& moduli, const VonMises& /*mises*/) {
  return moduli;
}
PlaneYield plane_yield(const PlaneModuli& moduli, const RValues& r) {
  return HillPlane(moduli, HillConstants(r));
}
PlaneYield plane_yield(const PlaneModuli& moduli, const Yld2000& yield) {
  return YldPlane(moduli, yield);
}
PlaneYield plane_yield(const PlaneModuli& moduli, const Yld2000Tests& tests) {
  return YldPlane(moduli, fit_yld2000(tests).yield);
}

}  // namespace

Eigen::Vector3d layer_strain(const SectionStrain& strain, const SectionFrozen& frozen, double z) {
  LogStrain log;
  require(log_strain(layer_metric(strain, frozen.inverse_metric).at(z), log),
          "metric must be positive definite at height", z);
  return voigt_strain(log.value());
}

Section::Section(const SheetMaterial& material, int n_points)
    : material_(material), moduli_(material.youngs_modulus, material.poissons_ratio) {
  require(n_points >= 1 && n_points <= 99, "points through the thickness must be 1 to 99", n_points);
  require_sound(material);
  curve_ = flow_curve(material.hardening);
  yield_ = std::visit([&](const auto& yield) { return plane_yield(moduli_, yield); }, material.yield);
  const ThicknessRule rule = gauss_legendre(n_points);
  zeta_ = rule.zeta;
  weight_ = rule.weight;
}

bool Section::respond(const SectionStrain& strain, const SectionFrozen& frozen, const PointState* committed,
                      PointState* trial, SectionResponse& response) const {
  const LayerTask task{moduli_, zeta_, weight_, strain, frozen, committed};
  return std::visit([&](const auto& yield) { return respond_layers(yield, curve_, task, trial, response); },
                    yield_);
}

SectionPoint Section::sample(const SectionStrain& strain, const SectionFrozen& frozen,
                             const PointState* accepted, double at_zeta) const {
  const auto log_strain_at = [&](double zeta) {
    return strain_coordinates(layer_strain(strain, frozen, zeta * frozen.thickness));
  };
  const auto stress_at = [&](double zeta, const Vector3d& plastic_strain) {
    return elastic_stress(moduli_, log_strain_at(zeta), plastic_strain, 0, normal_stress_at(frozen, zeta))
        .stress;
  };

  // The layers on both sides of at_zeta, or the two nearest to the face.
  Eigen::Index below = 0;
  while (below + 2 < zeta_.size() && zeta_[below + 1] <= at_zeta) ++below;
  const Eigen::Index above = std::min(below + 1, zeta_.size() - 1);
  const double share = above == below ? 0 : (at_zeta - zeta_[below]) / (zeta_[above] - zeta_[below]);
  const PointState& low = accepted[below];
  const PointState& high = accepted[above];

  SectionPoint point;
  point.strain = layer_strain(strain, frozen, at_zeta * frozen.thickness);
  point.normal_stress = normal_stress_at(frozen, at_zeta);
  point.equivalent_plastic_strain =
      std::max(0.0, (1 - share) * low.equivalent_plastic_strain + share * high.equivalent_plastic_strain);
  const bool virgin = low.equivalent_plastic_strain == 0 && high.equivalent_plastic_strain == 0;
  Vector3d stress =
      virgin ? stress_at(at_zeta, Vector3d::Zero())
             : Vector3d((1 - share) * stress_at(zeta_[below], strain_coordinates(low.plastic_strain)) +
                        share * stress_at(zeta_[above], strain_coordinates(high.plastic_strain)));
  const double equivalent = std::visit(
      [&](const auto& yield) { return equivalent_stress(yield, stress, point.normal_stress); }, yield_);
  const double limit = std::visit(
      [&](const auto& curve) { return flow_stress(curve, point.equivalent_plastic_strain).stress; }, curve_);
  if (!frozen.elastic && equivalent > limit) {
    const Vector3d pressure(2 * point.normal_stress, 0, 0);
    stress = pressure + (stress - pressure) * (limit / equivalent);
  }
  point.von_mises = von_mises(stress, point.normal_stress);
  point.stress = voigt_stress(stress);
  return point;
}

}  // namespace halftool::solver
