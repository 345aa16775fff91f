#include "solver/material/hardening.hpp"

#include <algorithm>

namespace halftool::solver {
namespace {

double considere(const SwiftHardening& swift) {
  return std::max(0.0, swift.exponent - swift.pre_strain);
}

double considere(const VoceHardening& voce) {
  const double ratio = (1 + voce.rate) * (voce.saturation - voce.initial) / voce.saturation;
  return ratio > 1 && voce.rate > 0 ? std::log(ratio) / voce.rate : 0;
}

/// Slope over stress falls with strain, from the start on.
template <class Concave>
double considere(const Concave& curve) {
  const auto hardens = [&](double strain) {
    const FlowStress flow = flow_stress(curve, strain);
    return flow.slope > flow.stress;
  };
  if (!hardens(0)) return 0;
  double low = 0;
  double high = 1;  // no concave curve that starts above 0 hardens by more than itself beyond a strain of 1
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (hardens(middle) ? low : high) = middle;
  }
  return low;
}

/// Load is stress times exp(-strain); greatest at a point, within a piece or on the power law.
double considere(const FlowTable& table) {
  double best = 0;
  double greatest = table.at(0).stress;
  const auto offer = [&](double strain) {
    const double load = table.at(strain).stress * std::exp(-strain);
    if (load > greatest) {
      greatest = load;
      best = strain;
    }
  };
  const auto& strains = table.strains();
  for (std::size_t i = 1; i < strains.size(); ++i) {
    const FlowStress start = table.at(strains[i - 1]);
    const double level = start.slope > 0 ? strains[i - 1] + 1 - start.stress / start.slope : 0;
    if (level > strains[i - 1] && level < strains[i]) offer(level);
    offer(strains[i]);
  }
  if (table.exponent() > table.last_strain()) offer(table.exponent());
  return best;
}

}  // namespace

FlowCurve flow_curve(const Hardening& hardening) {
  if (const auto* hollomon = std::get_if<HollomonHardening>(&hardening)) {
    const double pre_strain = std::pow(hollomon->initial / hollomon->strength, 1 / hollomon->exponent);
    return SwiftHardening{hollomon->strength, pre_strain, hollomon->exponent};
  }
  if (const auto* table = std::get_if<TableHardening>(&hardening)) return FlowTable(*table);
  if (const auto* swift = std::get_if<SwiftHardening>(&hardening)) return *swift;
  if (const auto* voce = std::get_if<VoceHardening>(&hardening)) return *voce;
  if (const auto* ludwik = std::get_if<LudwikHardening>(&hardening)) return *ludwik;
  return std::get<SwiftVoceHardening>(hardening);
}

FlowStress flow_stress(const Hardening& hardening, double equivalent_plastic_strain) {
  return std::visit([&](const auto& curve) { return flow_stress(curve, equivalent_plastic_strain); },
                    flow_curve(hardening));
}

double uniform_strain(const Hardening& hardening) {
  return std::visit([](const auto& curve) { return considere(curve); }, flow_curve(hardening));
}

}  // namespace halftool::solver
