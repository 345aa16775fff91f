#include "solver/stepping/pressing_state.hpp"

namespace halftool::solver {
namespace {

// What a pad that bridges hollows brings into them follows the last accepted shape. In increments as long as
// without it the pressure runs ahead of the hollow, which is pressed too far and does not come back.
constexpr double kGrowthUnderPad = 1.0 / 3;

}  // namespace

PressingState::PressingState(const SheetModel& model, const SolverSettings& settings, double first_volume)
    : path(fresh_path(model, settings, first_volume)), choice(model.blank.thickness) {}

Path fresh_path(const SheetModel& model, SolverSettings settings, double first_volume) {
  const bool under_pad = model.smallest_pad_radius > 0;
  if (under_pad) settings.pressure_growth *= kGrowthUnderPad;
  return {model.equations, settings, first_volume, under_pad};
}

}  // namespace halftool::solver
