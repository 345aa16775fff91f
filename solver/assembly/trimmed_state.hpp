#pragma once
#include "mesh/trim.hpp"
#include "solver/assembly/sheet_model.hpp"

namespace halftool::solver {

/// The state of a sheet carried over to what a trim left of it. Each triangle keeps the stress of the one
/// that it was cut from: nodes on cut edges are put on the curved surface, turns of new edges follow its
/// normals, and what the strain of a triangle changes by that goes into its plastic strain, layer by layer.
/// Thickness, contact and hardening are kept. The result is out of balance by what the cut took away.
/// @param before  the sheet before, `state` its state
/// @param after   model of cut.blank, same metal and layers
SheetState trimmed_state(const SheetModel& before, const SheetState& state, const mesh::TrimmedBlank& cut,
                         const SheetModel& after);

}  // namespace halftool::solver
