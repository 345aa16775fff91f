#include "solver/material/section_layers.hpp"
#include "solver/material/yld2000_return.hpp"

namespace halftool::solver {

bool respond_layers(const YldPlane& yld, const FlowCurve& curve, const LayerTask& task, PointState* trial,
                    SectionResponse& response) {
  return std::visit([&](const auto& law) { return respond_with(yld, law, task, trial, response); }, curve);
}

}  // namespace halftool::solver
