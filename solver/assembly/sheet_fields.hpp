#pragma once
#include "mesh/tool_surface.hpp"
#include "solver/assembly/sheet_model.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// Fields of an accepted state for files and pictures. `limit_share` is left zero: the assessment fills it.
/// @param tool           for the gap; none: the gap is NaN
/// @param normal_stress  as in the computation
SheetFields sheet_fields(const SheetModel& model, const SheetState& state, const mesh::ToolSurface* tool,
                         bool normal_stress);

/// Largest thinning of a state, (t0 - t)/t0.
double worst_thinning(const SheetState& state);

}  // namespace halftool::solver
