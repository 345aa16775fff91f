#include "solver/assessment/varied_sheet.hpp"

#include <cmath>

#include "solver/material/hardening.hpp"

namespace halftool::solver {
namespace {

constexpr double kept_strain = 0.1;

/// New exponent of K (shift + strain)^n with the value at the kept strain as it was.
bool bend_power(double& strength, double& exponent, double shift, double factor) {
  const double old = exponent;
  exponent *= factor;
  strength *= std::pow(shift + kept_strain, old - exponent);
  return exponent < 1;
}

bool bend(SwiftHardening& law, double factor) {
  return bend_power(law.strength, law.exponent, law.pre_strain, factor);
}
bool bend(HollomonHardening& law, double factor) {
  const double start = std::pow(law.initial / law.strength, 1 / law.exponent);
  return bend_power(law.strength, law.exponent, start, factor);
}
bool bend(LudwikHardening& law, double factor) {
  return bend_power(law.strength, law.exponent, 0, factor);
}
bool bend(SwiftVoceHardening& law, double factor) {
  return bend(law.swift, factor);
}
/// A curve without an exponent: its slope at the kept strain, and the exponent that it has there, grow by the
/// factor where stresses are drawn apart from the one at that strain.
bool bend(VoceHardening& law, double factor) {
  const double kept = flow_stress(law, kept_strain).stress;
  law.initial = kept + factor * (law.initial - kept);
  law.saturation = kept + factor * (law.saturation - kept);
  return law.initial > 0;
}
bool bend(TableHardening& law, double factor) {
  const double kept = flow_stress(law, kept_strain).stress;
  for (auto& point : law.points) point[1] = kept + factor * (point[1] - kept);
  return law.points.front()[1] > 0;
}
bool bend(YoshidaUemoriHardening& /*law*/, double /*factor*/) {
  return false;
}

}  // namespace

std::optional<SheetMaterial> with_exponent(SheetMaterial sheet, double factor) {
  if (!std::visit([&](auto& law) { return bend(law, factor); }, sheet.hardening)) return std::nullopt;
  return sheet;
}

}  // namespace halftool::solver
