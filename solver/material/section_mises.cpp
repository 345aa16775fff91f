#include "solver/material/section_layers.hpp"
#include "solver/material/stress_update.hpp"

namespace halftool::solver {

bool respond_layers(const PlaneModuli& mises, const FlowCurve& curve, const LayerTask& task,
                    PointState* trial, SectionResponse& response) {
  return std::visit([&](const auto& law) { return respond_with(mises, law, task, trial, response); }, curve);
}

}  // namespace halftool::solver
