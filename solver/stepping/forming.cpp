#include "solver/stepping/forming.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>

#include "solver/assembly/sheet_fields.hpp"
#include "solver/stepping/impasse.hpp"
#include "solver/stepping/lay_on.hpp"
#include "solver/stepping/pressing_state.hpp"
#include "solver/stepping/thinning_shift.hpp"

namespace halftool::solver {
namespace {

// Contact is never softer than at this pressure [MPa]: the nose of the tool carries several times the
// fluid's.
constexpr double kSoftestContactPressure = 3;
// Contact is this metal's measure [MPa]: beside a stiffer one it must be as much stiffer to press it alike.
constexpr double kMeasuredModulus = 70e3;
// Pressure at which the sheet is laid down [MPa].
constexpr double kLayDownPressure = 1e-3;
// Motion of the first increment, over the thickness.
constexpr double kFirstMotion = 0.05;
// Balance is asked for relative to the force of at least this share of the peak pressure.
constexpr double kLeastPressureShare = 5e-4;
constexpr int kMostDwellIncrements = 12;
constexpr double kSettled = 1e-3;  // out-of-balance force of a sheet laid on another tool
constexpr int kMostSettlings = 60;
// Damping where the sheet snaps or settles: the first try, over the fluid's pressure [1/mm], the factor by
// which it grows while that is too little and the one by which it fades with each increment accepted; what is
// least worth keeping and most worth trying, over the first.
constexpr double kFirstDamping = 0.03;
constexpr double kLeastPressureToDamp = 1;  // [MPa]
constexpr double kDampingGrowth = 4;
constexpr double kDampingFade = 0.5;
constexpr double kLeastDamping = 0.1;
constexpr double kMostDampingOnTheWay = 64;
// Attempts that an unstable sheet fails before it is damped for the first time: a shorter one may find the
// way without.
constexpr int kSnapsToDamp = 2;
constexpr double kMostDamping = 1e4;

class Pressing {
 public:
  Pressing(IncrementSolver& solver, const mesh::ToolSurface& tool, const PressSpec& press, Monitor& monitor,
           RunRecord& record, PressingState start)
      : solver_(solver),
        tool_(tool),
        press_(press),
        monitor_(monitor),
        record_(record),
        model_(solver.model()),
        peak_(press.schedule.back().pressure),
        now_(std::move(start)) {}

  FormedPart from_rest() {
    lay_down();
    return run();
  }

  FormedPart from(const SheetState& start) {
    now_.sheet = start;
    for (TriangleMemory& memory : now_.sheet.memory) memory.tool_gap = 0;  // another tool
    settle();
    return run();
  }

  FormedPart go_on() {
    solver_.stay_indefinite(now_.stays_indefinite);
    return run();
  }

 private:
  FormedPart run() {
    for (const SchedulePoint& point : press_.schedule)
      if (point.pressure > 0) advance(point.pressure);
    if (!now_.at_rest) dwell();
    return {std::move(now_.sheet), loading_at(peak_)};
  }

  [[nodiscard]] Loading loading_at(double pressure) const {
    Loading loading;
    loading.pressure = pressure;
    loading.normal_pressure = pressure;
    loading.normal_stress = press_.normal_stress;
    loading.edges_loaded = press_.edges_loaded;
    loading.tool = &tool_;
    loading.contact = contact_law(model_, solver_.settings(), press_.tool_friction, pressure);
    if (press_.friction_of.size() > 0) loading.friction_of = &press_.friction_of;
    loading.damping = solver_.settings().viscosity + now_.damping;
    return loading;
  }

  // Rests the sheet on the tool with the penetration that carries a whisper of pressure, and sizes the first
  // step.
  void lay_down() {
    now_.sheet = initial_state(model_);
    const Loading loading = loading_at(kLayDownPressure);
    if (!model_.blank.rim_held) lay_on(tool_, kLayDownPressure / loading.contact.stiffness, now_.sheet);
    now_.sheet.pressure = kLayDownPressure;
    now_.volume_gradient = solver_.evaluate(now_.sheet, now_.sheet.place, loading, false).pressure_force;
    const double volume = first_volume(loading);
    if (!(volume > 0))
      throw SolveError("the blank is not held at the start: nothing under it resists the pressure");
    now_.path = fresh_path(model_, solver_.settings(), volume);
  }

  // Fluid that moves the sheet by the first motion; 0 where its stiffness is not positive definite.
  [[nodiscard]] double first_volume(const Loading& loading) const {
    const Eigen::VectorXd response = solver_.response_to_pressure(now_.sheet, loading);
    const double motion = response.size() ? largest_motion(response, model_.equations) : 0;
    return motion > 0 ? kFirstMotion * model_.blank.thickness / motion * now_.volume_gradient.dot(response)
                      : 0;
  }

  // Brings a sheet that was unloaded on another tool to rest on this one.
  void settle() {
    now_.volume_gradient =
        solver_.evaluate(now_.sheet, now_.sheet.place, loading_at(now_.sheet.pressure), false).pressure_force;
    take_at_rest(balance_at(now_.sheet.pressure, {kSettled, 5e-3, 0, kLeastPressureShare * peak_, false},
                            record_.iterations));
    report(Phase::forming);
    const double volume = first_volume(loading_at(now_.sheet.pressure));
    now_.path =
        fresh_path(model_, solver_.settings(),
                   volume > 0 ? volume : 1e-3 * model_.blank.thickness * now_.volume_gradient.lpNorm<1>());
  }

  // The balance at a pressure. Where there is none within reach (something was taken from under the sheet, or
  // contact changes in many places), its motion is damped, less and less, until it is found without.
  IncrementResult balance_at(double pressure, const Tolerances& tolerances, int& iterations) {
    for (int i = 0;; ++i) {
      if (monitor_.stop_requested()) throw Stopped("stopped by the user");
      const bool damped = now_.damping > 0;
      IncrementResult result = solver_.solve(now_.sheet, {kept_in_contact(), pressure}, loading_at(pressure),
                                             Control{}, now_.volume_gradient, tolerances);
      iterations += result.iterations;
      if (result.converged && !damped) return result;
      if (i == kMostSettlings || now_.damping > kMostDamping * first_damping()) give_up(result);
      if (result.converged) {
        take_at_rest(result);
        fade_damping();
      } else {
        raise_damping();
      }
    }
  }

  // The last place; a sheet that thinned in its last increment would stand off the tool there.
  [[nodiscard]] SheetPlace kept_in_contact() const {
    return now_.shift.size() ? moved(now_.sheet.place, model_.equations, now_.shift) : now_.sheet.place;
  }

  void take_at_rest(const IncrementResult& result) {
    count(result);
    SheetState next = accept(model_, now_.sheet, result.place, result.balance, result.pressure);
    now_.shift = thinning_shift(model_, now_.sheet, next);
    now_.sheet = std::move(next);
    now_.volume_gradient = result.balance.pressure_force;
  }

  void advance(double target) {
    while (now_.sheet.pressure < target * (1 - 1e-9)) {
      if (monitor_.stop_requested()) {
        safe_point();
        throw Stopped("stopped by the user");
      }
      const Path::Attempt attempt = now_.path.next(now_.sheet, target);
      const std::optional<Guess> guess = choose(attempt.guesses);
      if (!guess) {
        now_.path.shorten();
        continue;
      }
      const IncrementResult result = solver_.solve(now_.sheet, *guess, loading_for(*guess), attempt.control,
                                                   now_.volume_gradient, tolerances());
      record_.iterations += result.iterations;
      if (result.converged && now_.path.acceptable(now_.sheet, result, target)) {
        take(result);
      } else {
        record_.cuts += 1;
        now_.snaps_in_a_row += result.unstable ? 1 : 0;
        if (now_.snaps_in_a_row >= (record_.snaps > 0 ? 1 : kSnapsToDamp) &&
            now_.damping < kMostDampingOnTheWay * first_damping())
          damp_snap();
        else if (!now_.path.cut())
          lean_on_damping(result);
      }
    }
  }

  std::optional<Guess> choose(const std::vector<Guess>& guesses) {
    return now_.choice.best(
        guesses,
        [&](const Guess& guess) {
          return solver_.evaluate(now_.sheet, guess.place, loading_for(guess), false);
        },
        tolerances(), now_.path.may_shorten());
  }

  [[nodiscard]] Loading loading_for(const Guess& guess) const {
    return loading_at(std::max(guess.pressure, kLayDownPressure));
  }

  // A last resort where the sheet snaps: damping that fades again, counted in the work it does.
  void lean_on_damping(const IncrementResult& result) {
    if (now_.damping > first_damping()) give_up(result);
    raise_damping();
    now_.path.restart(1e-3 * model_.blank.thickness * now_.volume_gradient.lpNorm<1>());
    monitor_.note("no balance without damping at " + std::to_string(now_.sheet.pressure) +
                  " MPa; damping added, its work is counted");
  }

  // A wave of the sheet that jumps to another shape releases energy, which in the press goes into vibrations
  // and the pad; here damping takes it, through as many increments as the jump is long.
  void damp_snap() {
    if (now_.damping == 0 && record_.snaps++ == 0)
      monitor_.note("the sheet snaps at " + std::to_string(now_.sheet.pressure) +
                    " MPa: snaps are damped and counted, with the work of the damping");
    raise_damping();
  }

  [[nodiscard]] double first_damping() const {
    return kFirstDamping * std::max(now_.sheet.pressure, kLeastPressureToDamp);
  }
  void raise_damping() { now_.damping = std::max(kDampingGrowth * now_.damping, first_damping()); }
  void fade_damping() {
    now_.damping = now_.damping > kLeastDamping * first_damping() ? kDampingFade * now_.damping : 0;
  }

  [[noreturn]] void give_up(const IncrementResult& result) const {
    std::ostringstream message;
    message << "no equilibrium beyond " << now_.sheet.pressure << " MPa: " << result.reason
            << place_of_impasse(model_, now_.sheet, result, &tool_);
    throw SolveError(message.str());
  }

  void count(const IncrementResult& result) {
    record_.external_work += work_of_fluid(result);
    record_.friction_work += result.balance.friction_work;
    record_.plastic_work = result.balance.plastic_work;
    record_.regularisation_work += result.balance.damping_work;
  }

  void take(const IncrementResult& result) {
    count(result);
    now_.choice.accepted();
    record_.increments += 1;
    now_.increments += 1;
    SheetState next = accept(model_, now_.sheet, result.place, result.balance, result.pressure);
    now_.shift = thinning_shift(model_, now_.sheet, next);
    now_.path.accepted(now_.sheet, result, now_.shift);
    now_.sheet = std::move(next);
    now_.volume_gradient = result.balance.pressure_force;
    now_.snaps_in_a_row = 0;
    if (!result.unstable) fade_damping();
    report(Phase::forming);
    safe_point();
  }

  void safe_point() {
    now_.stays_indefinite = solver_.stays_indefinite();
    monitor_.safe_point(now_);
  }

  [[nodiscard]] double work_of_fluid(const IncrementResult& result) const {
    const Eigen::VectorXd change = difference(result.place, now_.sheet.place, model_.equations);
    return 0.5 * change.dot(now_.sheet.pressure * now_.volume_gradient +
                            result.pressure * result.balance.pressure_force);
  }

  // Repeats the balance at full pressure with what an increment holds fixed brought up to date, to a tighter
  // tolerance, until the place stands still.
  void dwell() {
    now_.damping = 0;
    const Tolerances tight{1e-6, 1e-3, 0, 0, false};
    for (int i = 0;; ++i) {
      const IncrementResult result = balance_at(peak_, tight, record_.iterations_dwell);
      const double motion =
          largest_motion(difference(result.place, now_.sheet.place, model_.equations), model_.equations);
      take_at_rest(result);
      const bool rests = motion < 1e-4 * model_.blank.thickness;
      if (rests || i == kMostDwellIncrements) {
        if (!rests)
          monitor_.note("the sheet does not come to rest at full pressure: it still moves by " +
                        std::to_string(motion) + " mm; do not trust its springback");
        record_balance(result);
        now_.at_rest = true;
        report(Phase::dwell);
        safe_point();
        return;
      }
    }
  }

  void record_balance(const IncrementResult& result) {
    record_.out_of_balance = result.out_of_balance;
    record_.largest_penetration = -result.balance.smallest_gap;
    record_.pressure_force_z = result.balance.fluid_resultant.z();
    record_.tool_force_z = result.balance.tool_resultant.z();
    record_.held_force_z = result.balance.held_resultant.z();
  }

  void report(Phase phase) {
    Progress progress;
    progress.phase = phase;
    progress.pressure = now_.sheet.pressure;
    progress.target_pressure = peak_;
    progress.increments = record_.increments;
    progress.iterations = record_.iterations;
    progress.worst_thinning = worst_thinning(now_.sheet);
    progress.share_done = share_done();
    progress.tool = &tool_;
    monitor_.accepted(progress, sheet_fields(model_, now_.sheet, &tool_, press_.normal_stress));
  }

  // Of the pressing's time, as measured (DEVELOPERS.md): a quarter goes by below 1 MPa, then each doubling
  // of the pressure takes as long as the one before.
  [[nodiscard]] double share_done() const {
    if (now_.at_rest) return 1;
    const double folded = peak_ <= 1 ? 1 : 0.25;
    if (now_.sheet.pressure <= 1 || peak_ <= 1) return folded * (1 - std::exp(-now_.increments / 15.0));
    return folded + (1 - folded) * std::log(now_.sheet.pressure) / std::log(peak_);
  }

  [[nodiscard]] Tolerances tolerances() const {
    // From rest a shorter increment is no easier: a flat sheet on a flat tool lifts off point by point.
    const bool give_up_early = record_.increments > 0;
    return {solver_.settings().tolerance, 5e-3, 0, kLeastPressureShare * peak_, give_up_early};
  }

  IncrementSolver& solver_;
  const mesh::ToolSurface& tool_;
  const PressSpec& press_;
  Monitor& monitor_;
  RunRecord& record_;
  const SheetModel& model_;
  double peak_;
  PressingState now_;
};

}  // namespace

ContactLaw contact_law(const SheetModel& model, const SolverSettings& settings, double friction,
                       double pressure) {
  const double thickness = model.blank.thickness;
  const double stiffer = model.section.material().youngs_modulus / kMeasuredModulus;
  ContactLaw law;
  law.stiffness =
      stiffer * std::max(pressure, kSoftestContactPressure) / (settings.penetration_share * thickness);
  law.friction = friction;
  law.slip_limit = settings.slip_share * thickness;
  return law;
}

FormedPart form(IncrementSolver& solver, const mesh::ToolSurface& tool, const PressSpec& press,
                Monitor& monitor, RunRecord& record) {
  const OtherTime other(record);
  PressingState start(solver.model(), solver.settings());
  return Pressing(solver, tool, press, monitor, record, std::move(start)).from_rest();
}

FormedPart form_on(IncrementSolver& solver, const SheetState& start, const mesh::ToolSurface& tool,
                   const PressSpec& press, Monitor& monitor, RunRecord& record) {
  const OtherTime other(record);
  PressingState laid(solver.model(), solver.settings());
  return Pressing(solver, tool, press, monitor, record, std::move(laid)).from(start);
}

FormedPart go_on(IncrementSolver& solver, PressingState start, const mesh::ToolSurface& tool,
                 const PressSpec& press, Monitor& monitor, RunRecord& record) {
  const OtherTime other(record);
  return Pressing(solver, tool, press, monitor, record, std::move(start)).go_on();
}

}  // namespace halftool::solver
