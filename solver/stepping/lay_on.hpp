#pragma once
#include "mesh/tool_surface.hpp"
#include "solver/state.hpp"

namespace halftool::solver {

/// Moves the sheet along the press axis until its lowest contact point stands in the tool by `penetration`
/// [mm].
void lay_on(const mesh::ToolSurface& tool, double penetration, SheetState& state);

}  // namespace halftool::solver
