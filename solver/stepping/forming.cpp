#include "solver/stepping/forming.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>

#include "solver/assembly/sheet_fields.hpp"
#include "solver/stepping/guess_choice.hpp"
#include "solver/stepping/impasse.hpp"
#include "solver/stepping/lay_on.hpp"
#include "solver/stepping/path.hpp"
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
// What a pad that bridges hollows brings into them follows the last accepted shape. In increments as long as
// without it the pressure runs ahead of the hollow, which is pressed too far and does not come back.
constexpr double kGrowthUnderPad = 1.0 / 3;

SolverSettings settings_of_path(const SheetModel& model, SolverSettings settings) {
  if (model.smallest_pad_radius > 0) settings.pressure_growth *= kGrowthUnderPad;
  return settings;
}

class Pressing {
 public:
  Pressing(IncrementSolver& solver, const mesh::ToolSurface& tool, const PressSpec& press, Monitor& monitor,
           RunRecord& record)
      : solver_(solver),
        tool_(tool),
        press_(press),
        monitor_(monitor),
        record_(record),
        model_(solver.model()),
        peak_(press.schedule.back().pressure),
        path_(fresh_path(1.0)),
        choice_(model_.blank.thickness) {}

  FormedPart from_rest() {
    lay_down();
    return run();
  }

  FormedPart from(const SheetState& start) {
    state_ = start;
    for (TriangleMemory& memory : state_.memory) memory.tool_gap = 0;  // another tool
    settle();
    return run();
  }

 private:
  FormedPart run() {
    for (const SchedulePoint& point : press_.schedule)
      if (point.pressure > 0) advance(point.pressure);
    dwell();
    return {std::move(state_), loading_at(peak_)};
  }

  [[nodiscard]] Path fresh_path(double first_volume) const {
    return {model_.equations, settings_of_path(model_, solver_.settings()), first_volume,
            model_.smallest_pad_radius > 0};
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
    loading.damping = solver_.settings().viscosity + damping_;
    return loading;
  }

  // Rests the sheet on the tool with the penetration that carries a whisper of pressure, and sizes the first
  // step.
  void lay_down() {
    state_ = initial_state(model_);
    const Loading loading = loading_at(kLayDownPressure);
    if (!model_.blank.rim_held) lay_on(tool_, kLayDownPressure / loading.contact.stiffness, state_);
    state_.pressure = kLayDownPressure;
    volume_gradient_ = solver_.evaluate(state_, state_.place, loading, false).pressure_force;
    const double volume = first_volume(loading);
    if (!(volume > 0))
      throw SolveError("the blank is not held at the start: nothing under it resists the pressure");
    path_ = fresh_path(volume);
  }

  // Fluid that moves the sheet by the first motion; 0 where its stiffness is not positive definite.
  [[nodiscard]] double first_volume(const Loading& loading) const {
    const Eigen::VectorXd response = solver_.response_to_pressure(state_, loading);
    const double motion = response.size() ? largest_motion(response, model_.equations) : 0;
    return motion > 0 ? kFirstMotion * model_.blank.thickness / motion * volume_gradient_.dot(response) : 0;
  }

  // Brings a sheet that was unloaded on another tool to rest on this one.
  void settle() {
    volume_gradient_ =
        solver_.evaluate(state_, state_.place, loading_at(state_.pressure), false).pressure_force;
    take_at_rest(balance_at(state_.pressure, {kSettled, 5e-3, 0, kLeastPressureShare * peak_, false},
                            record_.iterations));
    report(Phase::forming);
    const double volume = first_volume(loading_at(state_.pressure));
    path_ = fresh_path(volume > 0 ? volume : 1e-3 * model_.blank.thickness * volume_gradient_.lpNorm<1>());
  }

  // The balance at a pressure. Where there is none within reach (something was taken from under the sheet, or
  // contact changes in many places), its motion is damped, less and less, until it is found without.
  IncrementResult balance_at(double pressure, const Tolerances& tolerances, int& iterations) {
    for (int i = 0;; ++i) {
      if (monitor_.stop_requested()) throw Stopped("stopped by the user");
      const bool damped = damping_ > 0;
      IncrementResult result = solver_.solve(state_, {kept_in_contact(), pressure}, loading_at(pressure),
                                             Control{}, volume_gradient_, tolerances);
      iterations += result.iterations;
      if (result.converged && !damped) return result;
      if (i == kMostSettlings || damping_ > kMostDamping * first_damping()) give_up(result);
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
    return shift_.size() ? moved(state_.place, model_.equations, shift_) : state_.place;
  }

  void take_at_rest(const IncrementResult& result) {
    count(result);
    SheetState next = accept(model_, state_, result.place, result.balance, result.pressure);
    shift_ = thinning_shift(model_, state_, next);
    state_ = std::move(next);
    volume_gradient_ = result.balance.pressure_force;
  }

  void advance(double target) {
    while (state_.pressure < target * (1 - 1e-9)) {
      if (monitor_.stop_requested()) throw Stopped("stopped by the user");
      const Path::Attempt attempt = path_.next(state_, target);
      const std::optional<Guess> guess = choose(attempt.guesses);
      if (!guess) {
        path_.shorten();
        continue;
      }
      const IncrementResult result =
          solver_.solve(state_, *guess, loading_for(*guess), attempt.control, volume_gradient_, tolerances());
      record_.iterations += result.iterations;
      if (result.converged && path_.acceptable(state_, result, target)) {
        take(result);
      } else {
        record_.cuts += 1;
        snaps_in_a_row_ += result.unstable ? 1 : 0;
        if (snaps_in_a_row_ >= (record_.snaps > 0 ? 1 : kSnapsToDamp) &&
            damping_ < kMostDampingOnTheWay * first_damping())
          damp_snap();
        else if (!path_.cut())
          lean_on_damping(result);
      }
    }
  }

  std::optional<Guess> choose(const std::vector<Guess>& guesses) {
    return choice_.best(
        guesses,
        [&](const Guess& guess) { return solver_.evaluate(state_, guess.place, loading_for(guess), false); },
        tolerances(), path_.may_shorten());
  }

  [[nodiscard]] Loading loading_for(const Guess& guess) const {
    return loading_at(std::max(guess.pressure, kLayDownPressure));
  }

  // A last resort where the sheet snaps: damping that fades again, counted in the work it does.
  void lean_on_damping(const IncrementResult& result) {
    if (damping_ > first_damping()) give_up(result);
    raise_damping();
    path_.restart(1e-3 * model_.blank.thickness * volume_gradient_.lpNorm<1>());
    monitor_.note("no balance without damping at " + std::to_string(state_.pressure) +
                  " MPa; damping added, its work is counted");
  }

  // A wave of the sheet that jumps to another shape releases energy, which in the press goes into vibrations
  // and the pad; here damping takes it, through as many increments as the jump is long.
  void damp_snap() {
    if (damping_ == 0 && record_.snaps++ == 0)
      monitor_.note("the sheet snaps at " + std::to_string(state_.pressure) +
                    " MPa: snaps are damped and counted, with the work of the damping");
    raise_damping();
  }

  [[nodiscard]] double first_damping() const {
    return kFirstDamping * std::max(state_.pressure, kLeastPressureToDamp);
  }
  void raise_damping() { damping_ = std::max(kDampingGrowth * damping_, first_damping()); }
  void fade_damping() { damping_ = damping_ > kLeastDamping * first_damping() ? kDampingFade * damping_ : 0; }

  [[noreturn]] void give_up(const IncrementResult& result) const {
    std::ostringstream message;
    message << "no equilibrium beyond " << state_.pressure << " MPa: " << result.reason
            << place_of_impasse(model_, state_, result, &tool_);
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
    choice_.accepted();
    record_.increments += 1;
    SheetState next = accept(model_, state_, result.place, result.balance, result.pressure);
    shift_ = thinning_shift(model_, state_, next);
    path_.accepted(state_, result, shift_);
    state_ = std::move(next);
    volume_gradient_ = result.balance.pressure_force;
    snaps_in_a_row_ = 0;
    if (!result.unstable) fade_damping();
    report(Phase::forming);
  }

  [[nodiscard]] double work_of_fluid(const IncrementResult& result) const {
    const Eigen::VectorXd change = difference(result.place, state_.place, model_.equations);
    return 0.5 *
           change.dot(state_.pressure * volume_gradient_ + result.pressure * result.balance.pressure_force);
  }

  // Repeats the balance at full pressure with what an increment holds fixed brought up to date, to a tighter
  // tolerance, until the place stands still.
  void dwell() {
    damping_ = 0;
    const Tolerances tight{1e-6, 1e-3, 0, 0, false};
    for (int i = 0;; ++i) {
      const IncrementResult result = balance_at(peak_, tight, record_.iterations_dwell);
      const double motion =
          largest_motion(difference(result.place, state_.place, model_.equations), model_.equations);
      take_at_rest(result);
      const bool rests = motion < 1e-4 * model_.blank.thickness;
      if (rests || i == kMostDwellIncrements) {
        if (!rests)
          monitor_.note("the sheet does not come to rest at full pressure: it still moves by " +
                        std::to_string(motion) + " mm; do not trust its springback");
        record_balance(result);
        report(Phase::dwell);
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
    progress.pressure = state_.pressure;
    progress.target_pressure = peak_;
    progress.increments = record_.increments;
    progress.iterations = record_.iterations;
    progress.worst_thinning = worst_thinning(state_);
    progress.share_done = kShareBeforeRelease * share_done();
    progress.tool = &tool_;
    monitor_.accepted(progress, sheet_fields(model_, state_, &tool_, press_.normal_stress));
  }

  // Folding goes on below about 1 MPa and takes about half of the increments; then the pressure grows by a
  // fixed share an increment.
  [[nodiscard]] double share_done() const {
    if (state_.pressure <= 1 || peak_ <= 1) return 0.5 * (1 - std::exp(-record_.increments / 30.0));
    return 0.5 + 0.5 * std::log(state_.pressure) / std::log(peak_);
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
  SheetState state_;
  Eigen::VectorXd volume_gradient_;
  Eigen::VectorXd shift_;  // that keeps in contact what thinned in the last increment
  Path path_;
  GuessChoice choice_;
  double damping_ = 0;
  int snaps_in_a_row_ = 0;  // attempts that failed unstable since the last accepted increment
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
  return Pressing(solver, tool, press, monitor, record).from_rest();
}

FormedPart form_on(IncrementSolver& solver, const SheetState& start, const mesh::ToolSurface& tool,
                   const PressSpec& press, Monitor& monitor, RunRecord& record) {
  const OtherTime other(record);
  return Pressing(solver, tool, press, monitor, record).from(start);
}

}  // namespace halftool::solver
