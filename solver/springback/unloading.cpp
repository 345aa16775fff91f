#include "solver/springback/unloading.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string>

#include "solver/assembly/sheet_fields.hpp"
#include "solver/stepping/impasse.hpp"

namespace halftool::solver {
namespace {

// Shares of the peak pressure that the unloading passes through; an increment that fails is halved.
// The last ones are near zero, where contact lets go: a part that jumps from 0.5 MPa to nothing is mostly not
// found, and each attempt costs more iterations than these steps.
constexpr double kShares[] = {0.7, 0.4, 0.2, 0.1, 0.05, 0.02, 0.005, 0.0025, 0.00125, 0.000625, 0.0003125};
constexpr int kMostHalvings = 8;
// Forces are measured by the pressing, but never by less than this share of E t^2: below, the tolerance of
// the free part would ask for less than rounding leaves of the internal forces after a pressing at low
// pressure.
constexpr double kLeastReference = 1e-3;

// Of the release's time: each halving of the pressure takes longer than the one before, and a fifth goes by
// once the tool is away (measured: DEVELOPERS.md).
double share_done(double share_of_pressure) {
  const double way = std::log(share_of_pressure) / std::log(*std::rbegin(kShares));
  return 0.8 * std::min(way * way, 1.0);
}

}  // namespace

Unloading::Unloading(IncrementSolver& solver, const FormedPart& formed, Monitor& monitor, RunRecord& record)
    : solver_(solver), model_(solver.model()), formed_(formed), monitor_(monitor), record_(record) {
  const double pressing =
      formed.state.pressure *
      solver.evaluate(formed.state, formed.state.place, formed.loading, false).pressure_force.norm();
  const double thickness = model_.blank.thickness;
  reference_ =
      std::max(pressing, kLeastReference * model_.section.material().youngs_modulus * thickness * thickness);
}

Loading Unloading::loading_at(double pressure) const {
  Loading loading = formed_.loading;
  loading.contact = contact_law(model_, solver_.settings(), loading.contact.friction, pressure);
  loading.pressure = pressure;
  loading.normal_pressure = pressure;
  loading.damping = 0;
  return loading;
}

IncrementResult Unloading::balance_at(const SheetState& from, const Loading& loading, double tolerance) {
  const Guess guess{from.place, loading.pressure};
  const Tolerances tolerances{tolerance, 1e-3, reference_};
  IncrementResult result = solver_.solve(from, guess, loading, Control{},
                                         Eigen::VectorXd::Zero(model_.equations.count), tolerances);
  record_.iterations_release += result.iterations;
  return result;
}

SheetState Unloading::lower_to(double pressure) {
  SheetState state = formed_.state;
  for (const double share : kShares)
    if (share * formed_.state.pressure > pressure) lower(state, share * formed_.state.pressure, 0);
  lower(state, pressure, 0);
  return state;
}

void Unloading::lower(SheetState& state, double pressure, int halvings) {
  if (monitor_.stop_requested()) throw Stopped("stopped by the user");
  const IncrementResult result = balance_at(state, loading_at(pressure), 1e-6);
  if (!result.converged) {
    // Without pressure nothing holds the sheet on the tool, and it need not rest anywhere on it: the last,
    // small pressure is then as good a state to take the tool away from, and halving it costs more iterations
    // than the whole unloading before.
    if (pressure == 0) return;
    if (halvings == kMostHalvings)
      throw SolveError("the release found no balance at " + std::to_string(pressure) + " MPa: " +
                       result.reason + place_of_impasse(model_, state, result, formed_.loading.tool));
    lower(state, 0.5 * (state.pressure + pressure), halvings + 1);
    lower(state, pressure, halvings + 1);
    return;
  }
  record_.friction_work += result.balance.friction_work;
  record_.plastic_work = result.balance.plastic_work;
  state = accept(model_, state, result.place, result.balance, pressure);
  report(Phase::release, state, formed_.loading.tool, share_done(pressure / formed_.state.pressure));
}

void Unloading::report(Phase phase, const SheetState& state, const mesh::ToolSurface* tool, double share) {
  Progress progress;
  progress.phase = phase;
  progress.pressure = state.pressure;
  progress.target_pressure = 0;
  progress.increments = record_.increments;
  progress.iterations = record_.iterations;
  progress.worst_thinning = worst_thinning(state);
  progress.share_done = share;
  progress.tool = tool;
  monitor_.accepted(progress, sheet_fields(model_, state, tool, formed_.loading.normal_stress));
}

}  // namespace halftool::solver
