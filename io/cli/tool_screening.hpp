#pragma once
#include <vector>

#include "io/case/case.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/assessment/screen.hpp"

namespace halftool::io {

/// Screens the tool half of a case against its sheet and its peak pressure. Solves nothing.
/// @param blank  laid on the tool
std::vector<solver::Screen> screen_tool(const Case& job, const mesh::Blank& blank,
                                        const mesh::ToolSurface& tool);

}  // namespace halftool::io
