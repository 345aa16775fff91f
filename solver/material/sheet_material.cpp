#include "solver/material/sheet_material.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/material/flow_table.hpp"
#include "solver/material/scaled_strength.hpp"

namespace halftool::solver {
namespace {

void require(bool holds, const std::string& what, double value) {
  if (!holds) throw std::invalid_argument("SheetMaterial: " + what + ", found " + std::to_string(value));
}
void require_positive(const std::string& what, const auto& values) {
  for (const double value : values)
    require(value > 0 && std::isfinite(value), what + " must be positive", value);
}
void require_not_negative(const std::string& what, const auto& values) {
  for (const double value : values)
    require(value >= 0 && std::isfinite(value), what + " must not be negative", value);
}
void require_exponent(const std::string& law, double exponent) {
  require(exponent >= 0 && exponent < 1, law + " exponent n must be in [0, 1)", exponent);
}

void check(const SwiftHardening& swift) {
  require(swift.strength > 0, "Swift strength K must be positive", swift.strength);
  require(swift.pre_strain > 0, "Swift pre-strain eps0 must be positive", swift.pre_strain);
  require_exponent("Swift", swift.exponent);
}
void check(const VoceHardening& voce) {
  require(voce.initial > 0, "Voce initial stress must be positive", voce.initial);
  require(voce.saturation >= voce.initial, "Voce saturation must not be below the initial stress",
          voce.saturation);
  require(voce.rate >= 0, "Voce rate must not be negative", voce.rate);
}
void check(const HollomonHardening& hollomon) {
  require(hollomon.strength > 0, "Hollomon strength K must be positive", hollomon.strength);
  require(hollomon.initial > 0, "Hollomon first yield must be positive", hollomon.initial);
  require(hollomon.exponent > 0, "Hollomon exponent n must be positive", hollomon.exponent);
  require_exponent("Hollomon", hollomon.exponent);
}
void check(const LudwikHardening& ludwik) {
  require(ludwik.initial > 0, "Ludwik initial stress must be positive", ludwik.initial);
  require(ludwik.strength >= 0, "Ludwik strength K must not be negative", ludwik.strength);
  require(ludwik.exponent > 0, "Ludwik exponent n must be positive", ludwik.exponent);
  require_exponent("Ludwik", ludwik.exponent);
}
void check(const SwiftVoceHardening& blend) {
  require(blend.swift_share >= 0 && blend.swift_share <= 1, "share of Swift's law must be in [0, 1]",
          blend.swift_share);
  check(blend.swift);
  check(blend.voce);
}
void check(const TableHardening& table) {
  const FlowTable curve(table);  // throws
}
void check(const YoshidaUemoriHardening& two) {
  require_positive("Yoshida-Uemori yield Y and approach C", std::array{two.yield, two.approach});
  require(two.bound > two.yield && std::isfinite(two.bound), "Yoshida-Uemori bound B must be above yield Y",
          two.bound);
  require_not_negative("Yoshida-Uemori bound_shift b, bound_gain R_sat and bound_rate m",
                       std::array{two.bound_shift, two.bound_gain, two.bound_rate});
  require(two.stagnation >= 0 && two.stagnation <= 1, "Yoshida-Uemori stagnation h must be in [0, 1]",
          two.stagnation);
}

void check_backstress(const SheetMaterial& material) {
  const auto& terms = material.backstress;
  require(terms.size() <= kMostBackstressTerms, "terms of backstress must be at most 3",
          static_cast<double>(terms.size()));
  for (const BackstressTerm& term : terms)
    require_not_negative("backstress modulus C and rate gamma", std::array{term.modulus, term.rate});
  require(terms.empty() || !std::holds_alternative<YoshidaUemoriHardening>(material.hardening),
          "the Yoshida-Uemori law has a backstress of its own and takes no terms",
          static_cast<double>(terms.size()));
}

void check_modulus(const FallingModulus& falling, double youngs_modulus) {
  require(falling.saturated > 0 && falling.saturated <= youngs_modulus,
          "saturated modulus must be above 0 and at most Young's modulus", falling.saturated);
  require_not_negative("rate of the falling modulus", std::array{falling.rate});
}

void check_rate(const StrainRate& rate) {
  require(rate.press.has_value() == rate.test.has_value(),
          "strain rates of press and test must be given together", rate.press ? *rate.press : 0);
  if (rate.press) require_positive("strain rates of press and test", std::array{*rate.press, *rate.test});
  require(std::isfinite(rate.exponent), "rate sensitivity must be a number", rate.exponent);
}

void check(const VonMises& /*nothing to give*/) {}
void check(const RValues& r) {
  require_positive("r-values", std::array{r.r0, r.r45, r.r90});
}
void require_smooth(double exponent) {
  require(exponent >= 2 && std::isfinite(exponent), "Yld2000-2d exponent must be 2 or more", exponent);
}
void check(const Yld2000& yield) {
  require_smooth(yield.exponent);
  require_positive("Yld2000-2d coefficients", yield.alpha);
}
void check(const Yld2000Tests& tests) {
  require_smooth(tests.exponent);
  require_positive("yield ratios", tests.yield_ratios);
  require_positive("r-values", tests.r_values);
}

}  // namespace

void require_sound(const SheetMaterial& material) {
  require(material.youngs_modulus > 0, "Young's modulus must be positive", material.youngs_modulus);
  require(material.poissons_ratio >= 0 && material.poissons_ratio < 0.5,
          "Poisson's ratio must be in [0, 0.5)", material.poissons_ratio);
  std::visit([](const auto& law) { check(law); }, material.hardening);
  std::visit([](const auto& yield) { check(yield); }, material.yield);
  check_backstress(material);
  if (material.strain_rate) check_rate(*material.strain_rate);
  if (material.falling_modulus) check_modulus(*material.falling_modulus, material.youngs_modulus);
  require(!std::holds_alternative<YoshidaUemoriHardening>(material.hardening) || is_quadratic(material.yield),
          "the Yoshida-Uemori law needs yield of von Mises or Hill; index of the yield condition",
          static_cast<double>(material.yield.index()));
}

bool is_quadratic(const YieldCondition& yield) {
  return std::holds_alternative<VonMises>(yield) || std::holds_alternative<RValues>(yield);
}

bool has_kinematic_constants(const SheetMaterial& material) {
  return std::holds_alternative<YoshidaUemoriHardening>(material.hardening) ||
         std::any_of(material.backstress.begin(), material.backstress.end(),
                     [](const BackstressTerm& term) { return term.modulus > 0; });
}

bool hardens_kinematically(const SheetMaterial& material) {
  return !material.isotropic && has_kinematic_constants(material);
}

double rate_factor(const SheetMaterial& material) {
  const auto& rate = material.strain_rate;
  return rate && rate->press && rate->test ? std::pow(*rate->press / *rate->test, rate->exponent) : 1;
}

double rate_exponent(const SheetMaterial& material) {
  return material.strain_rate ? material.strain_rate->exponent : 0;
}

SheetMaterial acting_sheet(const SheetMaterial& material) {
  SheetMaterial sheet = material.strain_rate ? with_strength(material, rate_factor(material)) : material;
  sheet.strain_rate.reset();
  if (!material.isotropic || !has_kinematic_constants(material)) return sheet;
  sheet.hardening = tension_curve(sheet);
  sheet.backstress.clear();
  return sheet;
}

}  // namespace halftool::solver
