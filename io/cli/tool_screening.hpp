#pragma once
#include <vector>

#include "io/case/case.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/assessment/screen.hpp"

namespace halftool::io {

/// Screens a tool half of a case against its sheet and the peak pressure that it meets. Solves nothing.
/// @param blank     laid on the tool
/// @param pressure  greatest of the steps in which the tool stands so [MPa]
std::vector<solver::Screen> screen_tool(const Case& job, const mesh::Blank& blank,
                                        const mesh::ToolSurface& tool, double pressure);

}  // namespace halftool::io
