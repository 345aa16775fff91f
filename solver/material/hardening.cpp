#include "solver/material/hardening.hpp"

#include <algorithm>

#include "solver/material/scaled_strength.hpp"

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

/// Straight pieces between these strains err by less than 1e-4 of the stress of usual sheets.
constexpr int kTablePieces = 400;
double table_strain(int point) {
  const double share = static_cast<double>(point) / kTablePieces;
  return share * share * share;  // curves bend most at the start
}

/// Tension: d a* = C (a - sqrt(a a*)) d eps, a = B + R - Y, followed by the classical Runge-Kutta method.
TableHardening tension_table(const YoshidaUemoriHardening& two) {
  const auto saturates = [&](double strain) { return 1 - std::exp(-two.bound_rate * strain); };
  const auto room = [&](double strain) { return two.bound - two.yield + two.bound_gain * saturates(strain); };
  const auto slope = [&](double strain, double moved) {
    const double a = room(strain);
    return two.approach * (a - std::sqrt(a * std::max(0.0, moved)));
  };
  TableHardening table;
  double moved = 0;
  for (int i = 0; i <= kTablePieces; ++i) {
    const double end = table_strain(i);
    const double start = i == 0 ? 0 : table_strain(i - 1);
    const int steps = 1 + static_cast<int>((end - start) * two.approach * 40);
    const double h = (end - start) / steps;
    for (int k = 0; k < steps && h > 0; ++k) {
      const double at = start + k * h;
      const double k1 = slope(at, moved);
      const double k2 = slope(at + 0.5 * h, moved + 0.5 * h * k1);
      const double k3 = slope(at + 0.5 * h, moved + 0.5 * h * k2);
      moved += h / 6 * (k1 + 2 * k2 + 2 * k3 + slope(at + h, moved + h * k3));
    }
    table.points.push_back({end, two.yield + moved + two.bound_shift * saturates(end)});
  }
  return table;
}

double moved_by(const std::vector<BackstressTerm>& backstress, double strain) {
  double sum = 0;
  for (const BackstressTerm& term : backstress)
    sum += term.modulus * (term.rate > 0 ? -std::expm1(-term.rate * strain) / term.rate : strain);
  return sum;
}

}  // namespace

FlowCurve flow_curve(const Hardening& hardening) {
  if (const auto* two = std::get_if<YoshidaUemoriHardening>(&hardening))
    return FlowTable(tension_table(*two));
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

Hardening tension_curve(const SheetMaterial& material) {
  if (material.strain_rate) {
    SheetMaterial sheet = with_strength(material, rate_factor(material));
    sheet.strain_rate.reset();
    return tension_curve(sheet);
  }
  if (const auto* two = std::get_if<YoshidaUemoriHardening>(&material.hardening)) return tension_table(*two);
  if (!has_kinematic_constants(material)) return material.hardening;
  const FlowCurve curve = flow_curve(material.hardening);
  TableHardening table;
  for (int i = 0; i <= kTablePieces; ++i) {
    const double strain = table_strain(i);
    const double size = std::visit([&](const auto& law) { return flow_stress(law, strain).stress; }, curve);
    table.points.push_back({strain, size + moved_by(material.backstress, strain)});
  }
  return table;
}

FlowStress flow_stress(const Hardening& hardening, double equivalent_plastic_strain) {
  return std::visit([&](const auto& curve) { return flow_stress(curve, equivalent_plastic_strain); },
                    flow_curve(hardening));
}

double uniform_strain(const Hardening& hardening) {
  return std::visit([](const auto& curve) { return considere(curve); }, flow_curve(hardening));
}

}  // namespace halftool::solver
