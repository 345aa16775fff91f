#pragma once
#include "solver/stepping/forming.hpp"

namespace halftool::solver {

/// The part after the pressure has gone and the tool is taken away.
struct ReleasedPart {
  SheetState
      unloaded;      ///< still on the tool, pressure zero (or next to it, where no balance is found at zero)
  SheetState state;  ///< free of the tool, in static equilibrium
};

/// Takes the pressure away in steps with contact and friction active, then the tool. Only the rigid motions
/// that symmetry leaves open are held, at as few unknowns of well-spread nodes; a held rim stays held. Fills
/// the record.
/// @throws SolveError, Stopped
ReleasedPart release(IncrementSolver& solver, const FormedPart& formed, Monitor& monitor, RunRecord& record);

/// The balance of a part without tool and pressure from a state that is not in it, such as one that was just
/// trimmed.
/// @param formed  what it was before the release; must have the same model
/// @throws SolveError, Stopped
SheetState free_balance(IncrementSolver& solver, const FormedPart& formed, const SheetState& start,
                        Monitor& monitor, RunRecord& record);

/// The unknowns that hold the rigid motions left open by symmetry and held edges: as many equation numbers as
/// there are such motions, spread wide over the part (column-pivoted QR of the rigid motions).
Eigen::VectorXi minimal_supports(const SheetModel& model, const mesh::Points& positions);

}  // namespace halftool::solver
