#include "solver/material/hill_1948.hpp"
#include "solver/material/section_layers.hpp"

namespace halftool::solver {

bool respond_layers(const HillPlane& hill, const FlowCurve& curve, const LayerTask& task, PointState* trial,
                    SectionResponse& response) {
  return std::visit([&](const auto& law) { return respond_with(hill, law, task, trial, response); }, curve);
}

}  // namespace halftool::solver
