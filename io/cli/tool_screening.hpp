#pragma once
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/tool_survey.hpp"
#include "solver/assessment/screen.hpp"

namespace halftool::io {

/// Screens a tool half of a case against its sheet and the peak pressure that it meets. Solves nothing.
/// @param pressure  greatest of the steps in which the tool stands so [MPa]
std::vector<solver::Screen> screen_tool(const Case& job, const ToolSurvey& survey, double pressure);

}  // namespace halftool::io
