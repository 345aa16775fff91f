#pragma once
#include <cmath>

#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

// Each curve is concave and does not fall: the return map relies on it (stress_update.hpp).

/// Swift (1952): sigma = K (eps0 + eps_p)^n.
inline FlowStress flow_stress(const SwiftHardening& swift, double equivalent_plastic_strain) {
  const double strain = swift.pre_strain + equivalent_plastic_strain;
  const double stress = swift.strength * std::pow(strain, swift.exponent);
  return {stress, swift.exponent * stress / strain};
}
/// Voce (1948): sigma = s_inf - (s_inf - s_0) exp(-c eps_p).
inline FlowStress flow_stress(const VoceHardening& voce, double equivalent_plastic_strain) {
  const double left = (voce.saturation - voce.initial) * std::exp(-voce.rate * equivalent_plastic_strain);
  return {voce.saturation - left, voce.rate * left};
}

/// Work of plastic flow per volume from the virgin state, the integral of the flow stress [MPa = mJ/mm3].
/// @param stress  flow stress at equivalent_plastic_strain [MPa]
inline double plastic_work(const SwiftHardening& swift, double equivalent_plastic_strain, double stress) {
  const double start = swift.strength * std::pow(swift.pre_strain, swift.exponent);
  return ((swift.pre_strain + equivalent_plastic_strain) * stress - swift.pre_strain * start) /
         (swift.exponent + 1);
}
inline double plastic_work(const VoceHardening& voce, double equivalent_plastic_strain, double stress) {
  const double gain = stress - voce.initial;
  return voce.rate > 0 ? voce.saturation * equivalent_plastic_strain - gain / voce.rate
                       : voce.initial * equivalent_plastic_strain;
}

}  // namespace halftool::solver
