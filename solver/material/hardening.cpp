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

}  // namespace

FlowStress flow_stress(const Hardening& hardening, double equivalent_plastic_strain) {
  return std::visit([&](const auto& curve) { return flow_stress(curve, equivalent_plastic_strain); },
                    hardening);
}

double uniform_strain(const Hardening& hardening) {
  return std::visit([](const auto& curve) { return considere(curve); }, hardening);
}

}  // namespace halftool::solver
