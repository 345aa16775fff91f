#include "solver/material/kinematic_metal.hpp"

namespace halftool::solver {
namespace {

constexpr int kBeforeState = 1;  // the work

}  // namespace

int KinematicMetal::n_history() const {
  if (const auto* terms = std::get_if<BackstressTerms>(&law)) return kBeforeState + 3 * terms->count;
  return kBeforeState + YoshidaUemoriLaw::n_values();
}

Eigen::Vector3d KinematicMetal::centre(const double* history) const {
  if (const auto* terms = std::get_if<BackstressTerms>(&law)) return terms->centre(history + kBeforeState);
  return YoshidaUemoriLaw::centre(history + kBeforeState);
}

double KinematicMetal::yield_size(const FlowCurve& curve, double equivalent_plastic_strain) const {
  if (const auto* two = std::get_if<YoshidaUemoriLaw>(&law))
    return two->yield_size(equivalent_plastic_strain);
  return std::visit([&](const auto& one) { return flow_stress(one, equivalent_plastic_strain).stress; },
                    curve);
}

}  // namespace halftool::solver
