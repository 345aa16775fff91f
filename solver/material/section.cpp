#include "solver/material/section.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/material/gauss_legendre.hpp"
#include "solver/material/kinematic_metal.hpp"
#include "solver/material/plane_yield.hpp"
#include "solver/material/section_kinematic.hpp"
#include "solver/material/section_layers.hpp"

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

/// Nothing where the plain stress update does.
std::shared_ptr<const KinematicMetal> kinematic_metal(const SheetMaterial& material,
                                                      const PlaneYield& yield) {
  ModulusFall fall;
  if (material.falling_modulus)
    fall = {1 - material.falling_modulus->saturated / material.youngs_modulus,
            material.falling_modulus->rate};
  const bool falls = fall.lost > 0 && fall.rate > 0;
  if (!falls && !hardens_kinematically(material)) return nullptr;
  KinematicMetal metal{moving_yield(yield), BackstressTerms(material.backstress), fall};
  if (const auto* two = std::get_if<YoshidaUemoriHardening>(&material.hardening))
    metal.law = YoshidaUemoriLaw(*two);
  return std::make_shared<const KinematicMetal>(metal);
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
  const SheetMaterial acting = acting_sheet(material);
  curve_ = flow_curve(acting.hardening);
  yield_ = plane_yield(moduli_, acting.yield);
  kinematic_ = kinematic_metal(acting, yield_);
  const ThicknessRule rule = gauss_legendre(n_points);
  zeta_ = rule.zeta;
  weight_ = rule.weight;
}

bool Section::respond(const SectionStrain& strain, const SectionFrozen& frozen, const PointState* committed,
                      PointState* trial, SectionResponse& response, const SectionHistory& history) const {
  const LayerTask task{moduli_, zeta_, weight_, strain, frozen, committed};
  if (kinematic_)
    return std::visit(
        [&](const auto& yield) {
          return respond_layers(yield, *kinematic_, curve_, task, history, trial, response);
        },
        kinematic_->yield);
  return std::visit([&](const auto& yield) { return respond_layers(yield, curve_, task, trial, response); },
                    yield_);
}

int Section::n_history() const {
  return kinematic_ ? kinematic_->n_history() : 0;
}

SectionPoint Section::sample(const SectionStrain& strain, const SectionFrozen& frozen,
                             const PointState* accepted, double at_zeta, const double* history) const {
  const auto log_strain_at = [&](double zeta) {
    return strain_coordinates(layer_strain(strain, frozen, zeta * frozen.thickness));
  };
  const auto stress_at = [&](double zeta, const PointState& state) {
    const PlaneModuli moduli =
        kinematic_ ? fallen(moduli_, kinematic_->fall.share(state.equivalent_plastic_strain)) : moduli_;
    return elastic_stress(moduli, log_strain_at(zeta), strain_coordinates(state.plastic_strain), 0,
                          normal_stress_at(frozen, zeta))
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
      virgin ? stress_at(at_zeta, PointState())
             : Vector3d((1 - share) * stress_at(zeta_[below], low) + share * stress_at(zeta_[above], high));
  Vector3d centre = Vector3d::Zero();
  if (kinematic_) {
    const int width = kinematic_->n_history();
    centre = (1 - share) * kinematic_->centre(history + below * width) +
             share * kinematic_->centre(history + above * width);
  }
  const double equivalent = std::visit(
      [&](const auto& yield) { return equivalent_stress(yield, stress - centre, point.normal_stress); },
      yield_);
  const double limit =
      kinematic_
          ? kinematic_->yield_size(curve_, point.equivalent_plastic_strain)
          : std::visit(
                [&](const auto& curve) { return flow_stress(curve, point.equivalent_plastic_strain).stress; },
                curve_);
  if (!frozen.elastic && equivalent > limit) {
    const Vector3d middle = Vector3d(2 * point.normal_stress, 0, 0) + centre;
    stress = middle + (stress - middle) * (limit / equivalent);
  }
  point.von_mises = von_mises(stress, point.normal_stress);
  point.stress = voigt_stress(stress);
  return point;
}

}  // namespace halftool::solver
