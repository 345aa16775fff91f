#pragma once
#include <cmath>

#include "solver/material/flow_table.hpp"
#include "solver/material/power_near_one.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// The hardening law in the form in which it is computed: Hollomon's as Swift's, a table prepared.
using FlowCurve = std::variant<SwiftHardening, VoceHardening, LudwikHardening, SwiftVoceHardening, FlowTable>;
/// @throws std::invalid_argument if the points of a table do not make a curve
FlowCurve flow_curve(const Hardening& hardening);

// No curve falls, and all but the table are concave: the return maps rely on the first, and where they may on
// the second and on its bend (plastic_multiplier.hpp).
template <class Curve>
constexpr bool is_concave = true;
template <>
inline constexpr bool is_concave<FlowTable> = false;

/// Of a stress that goes with a power of strain.
inline FlowStress power_flow(double exponent, double stress, double strain) {
  const double per_strain = 1 / strain;
  const double slope = exponent * stress * per_strain;
  return {stress, slope, (exponent - 1) * slope * per_strain};
}
inline FlowStress flow_stress(const SwiftHardening& swift, double equivalent_plastic_strain) {
  const double strain = swift.pre_strain + equivalent_plastic_strain;
  return power_flow(swift.exponent, swift.strength * std::pow(strain, swift.exponent), strain);
}
/// Flow stress at `to` from what it is at `from`, for steps of an iteration: where they are small a power is
/// continued by its binomial series, which costs a fifth of it and is exact to rounding.
/// @param at  flow stress at `from`
template <class Curve>
FlowStress flow_stress_after(const Curve& curve, const FlowStress& /*at*/, double /*from*/, double to) {
  return flow_stress(curve, to);
}
inline FlowStress flow_stress_after(const SwiftHardening& swift, const FlowStress& at, double from,
                                    double to) {
  const double step = (to - from) / (swift.pre_strain + from);
  if (!is_near_one(step)) return flow_stress(swift, to);
  const double stress = at.stress + at.stress * power_near_one(step, swift.exponent);
  return power_flow(swift.exponent, stress, swift.pre_strain + to);
}
inline FlowStress flow_stress(const VoceHardening& voce, double equivalent_plastic_strain) {
  const double left = (voce.saturation - voce.initial) * std::exp(-voce.rate * equivalent_plastic_strain);
  return {voce.saturation - left, voce.rate * left, -voce.rate * voce.rate * left};
}

/// Ludwik's law starts upright. Below this strain, a thousandth of the elastic strain at yield, a parabola
/// takes its place that goes on with value and slope at the end and has a slope at the start.
constexpr double kLudwikStart = 1e-6;
inline FlowStress flow_stress(const LudwikHardening& ludwik, double equivalent_plastic_strain) {
  const double n = ludwik.exponent;
  if (equivalent_plastic_strain >= kLudwikStart) {
    const double gain = ludwik.strength * std::pow(equivalent_plastic_strain, n);
    FlowStress flow = power_flow(n, gain, equivalent_plastic_strain);
    flow.stress += ludwik.initial;
    return flow;
  }
  const double part = equivalent_plastic_strain / kLudwikStart;
  const double gain = ludwik.strength * std::pow(kLudwikStart, n);
  return {ludwik.initial + gain * part * ((2 - n) - (1 - n) * part),
          gain / kLudwikStart * ((2 - n) - 2 * (1 - n) * part),
          -2 * (1 - n) * gain / (kLudwikStart * kLudwikStart)};
}
inline FlowStress flow_stress(const SwiftVoceHardening& blend, double equivalent_plastic_strain) {
  const FlowStress swift = flow_stress(blend.swift, equivalent_plastic_strain);
  const FlowStress voce = flow_stress(blend.voce, equivalent_plastic_strain);
  const double share = blend.swift_share;
  return {share * swift.stress + (1 - share) * voce.stress, share * swift.slope + (1 - share) * voce.slope,
          share * swift.bend + (1 - share) * voce.bend};
}
inline FlowStress flow_stress(const FlowTable& table, double equivalent_plastic_strain) {
  return table.at(equivalent_plastic_strain);
}

/// Work of plastic flow per volume from the virgin state, the integral of the flow stress [MPa = mJ/mm3].
/// @param stress  flow stress at equivalent_plastic_strain [MPa]
/// @param first   flow stress at the first yield [MPa], the same for all points
inline double plastic_work(const SwiftHardening& swift, double equivalent_plastic_strain, double stress,
                           double first) {
  return ((swift.pre_strain + equivalent_plastic_strain) * stress - swift.pre_strain * first) /
         (swift.exponent + 1);
}
inline double plastic_work(const VoceHardening& voce, double equivalent_plastic_strain, double stress,
                           double /*first*/) {
  const double gain = stress - voce.initial;
  return voce.rate > 0 ? voce.saturation * equivalent_plastic_strain - gain / voce.rate
                       : voce.initial * equivalent_plastic_strain;
}
inline double plastic_work(const LudwikHardening& ludwik, double equivalent_plastic_strain, double stress,
                           double /*first*/) {
  const double n = ludwik.exponent;
  const double start = ludwik.strength * std::pow(kLudwikStart, n) * kLudwikStart;
  const double plain = ludwik.initial * equivalent_plastic_strain;
  if (equivalent_plastic_strain >= kLudwikStart) {
    const double gain = (stress - ludwik.initial) * equivalent_plastic_strain;
    return plain + (gain - start) / (n + 1) + start * ((2 - n) / 2 - (1 - n) / 3);
  }
  const double part = equivalent_plastic_strain / kLudwikStart;
  return plain + start * part * part * ((2 - n) / 2 - (1 - n) / 3 * part);
}
inline double plastic_work(const SwiftVoceHardening& blend, double equivalent_plastic_strain,
                           double /*stress*/, double /*first*/) {
  const double strain = equivalent_plastic_strain;
  const double share = blend.swift_share;
  const double swift_first = flow_stress(blend.swift, 0).stress;
  return share * plastic_work(blend.swift, strain, flow_stress(blend.swift, strain).stress, swift_first) +
         (1 - share) *
             plastic_work(blend.voce, strain, flow_stress(blend.voce, strain).stress, blend.voce.initial);
}
inline double plastic_work(const FlowTable& table, double equivalent_plastic_strain, double /*stress*/,
                           double /*first*/) {
  return table.work(equivalent_plastic_strain);
}

}  // namespace halftool::solver
