#include "solver/material/section_kinematic.hpp"

namespace halftool::solver {

bool respond_layers(const QuadraticYield& yield, const KinematicMetal& metal, const FlowCurve& curve,
                    const LayerTask& task, const SectionHistory& history, PointState* trial,
                    SectionResponse& response) {
  if (const auto* two = std::get_if<YoshidaUemoriLaw>(&metal.law))
    return respond_moving(yield, *two, metal.fall, task, history, trial, response);
  const auto& terms = std::get<BackstressTerms>(metal.law);
  return std::visit(
      [&](const auto& law) {
        return respond_moving(yield, BackstressLaw(terms, law), metal.fall, task, history, trial, response);
      },
      curve);
}

}  // namespace halftool::solver
