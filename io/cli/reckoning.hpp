#pragma once
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/tool_survey.hpp"
#include "solver/assessment/estimate.hpp"

namespace halftool::io {

/// All estimates of a case on one tool half.
/// @param pressure  greatest of the steps in which the tool stands so [MPa]
std::vector<solver::EstimateGroup> reckon_case(const Case& job, const ToolSurvey& survey, double pressure);

}  // namespace halftool::io
