#pragma once
#include <string>

#include "mesh/tool_surface.hpp"
#include "solver/stepping/increment.hpp"

namespace halftool::solver {

/// Where an increment found no balance, in words for the end of a message: the triangle whose strain left the
/// range of the metal, or the node with the largest out-of-balance force and a triangle at it; its number,
/// the place in the last accepted state, and whether it touches the tool there.
/// @param committed  the last accepted state
/// @param result     an increment that did not converge
/// @param tool       none: the sheet is free of it, and nothing is said of it
std::string place_of_impasse(const SheetModel& model, const SheetState& committed,
                             const IncrementResult& result, const mesh::ToolSurface* tool);

}  // namespace halftool::solver
