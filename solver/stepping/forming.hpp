#pragma once
#include <Eigen/Core>
#include <stdexcept>

#include "mesh/tool_surface.hpp"
#include "solver/monitor.hpp"
#include "solver/stepping/increment.hpp"
#include "solver/stepping/pressing_state.hpp"

namespace halftool::solver {

/// The computation could not go on. What was reached is with the monitor; the message names place and cause.
struct SolveError : std::runtime_error {
  using std::runtime_error::runtime_error;
};
/// The monitor asked to stop.
struct Stopped : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// The sheet in equilibrium at full pressure.
struct FormedPart {
  SheetState state;
  Loading loading;  ///< at full pressure
};

/// Presses the sheet from rest through the schedule and dwells until equilibrium no longer changes.
/// The displaced fluid volume leads and the pressure follows; once the sheet hardly moves any more the
/// pressure leads. Fills the record. Never loses an accepted state: each goes to the monitor first.
/// @throws SolveError, Stopped
FormedPart form(IncrementSolver& solver, const mesh::ToolSurface& tool, const PressSpec& press,
                Monitor& monitor, RunRecord& record);

/// Goes on with a sheet that was formed before and unloaded to a low pressure, on the tool as it stands now:
/// settles it there, then presses it through the schedule. Strains, stresses and thickness are carried on.
/// @param start  in equilibrium at start.pressure > 0 on the tool that stood before
/// @param press  must outlive the formed part
/// @throws SolveError, Stopped
FormedPart form_on(IncrementSolver& solver, const SheetState& start, const mesh::ToolSurface& tool,
                   const PressSpec& press, Monitor& monitor, RunRecord& record);

/// Goes on with a pressing that was broken off, to the same bits as if it had not been.
/// @param start  from Monitor::safe_point of a pressing on the same model, settings, tool and schedule
/// @param press  must outlive the formed part
/// @param record  as it stood at that point
/// @throws SolveError, Stopped
FormedPart go_on(IncrementSolver& solver, PressingState start, const mesh::ToolSurface& tool,
                 const PressSpec& press, Monitor& monitor, RunRecord& record);

/// Contact between this sheet and the tool at a fluid pressure: the penetration that carries the pressure is
/// a fixed share of the thickness, so that contact hardens as the pressure rises.
ContactLaw contact_law(const SheetModel& model, const SolverSettings& settings, double friction,
                       double pressure);

}  // namespace halftool::solver
