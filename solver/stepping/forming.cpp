#include "solver/stepping/forming.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <sstream>

#include "solver/assembly/sheet_fields.hpp"
#include "solver/stepping/impasse.hpp"
#include "solver/stepping/path.hpp"
#include "solver/stepping/thinning_shift.hpp"

namespace halftool::solver {
namespace {

// Contact is never softer than at this pressure [MPa]: the nose of the tool carries several times the
// fluid's.
constexpr double kSoftestContactPressure = 3;
// Pressure at which the sheet is laid down [MPa].
constexpr double kLayDownPressure = 1e-3;
// Motion of the first increment, over the thickness.
constexpr double kFirstMotion = 0.05;
// Balance is asked for relative to the force of at least this share of the peak pressure.
constexpr double kLeastPressureShare = 5e-4;
constexpr double kDeepPrediction = 0.1;  // of the thickness
constexpr double kJump = 4;              // of a guess's out-of-balance force over the usual
constexpr int kStartsToLearn = 4;        // before there is a usual
constexpr int kMostDwellIncrements = 12;
constexpr int kMostLowerings = 50;
// The crutch of last resort [MPa/mm] and the factor by which each accepted increment lowers it.
constexpr double kLastResortDamping = 0.02;
constexpr double kDampingFade = 0.25;
constexpr double kLeastDamping = 1e-6;

// Between the sheet's contact points and the tool [mm], < 0: penetration.
double smallest_gap(const SheetState& state, const mesh::ToolSurface& tool) {
  double smallest = std::numeric_limits<double>::infinity();
  for (const TriangleMemory& memory : state.memory)
    if (const auto at = tool.nearest(memory.middle, std::numeric_limits<double>::infinity()))
      smallest = std::min(smallest, at->gap - 0.5 * memory.thickness);
  return smallest;
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
        path_(model_.equations, solver.settings(), 1.0) {}

  FormedPart run() {
    lay_down();
    for (const SchedulePoint& point : press_.schedule)
      if (point.pressure > 0) advance(point.pressure);
    dwell();
    return {std::move(state_), loading_at(peak_)};
  }

 private:
  [[nodiscard]] Loading loading_at(double pressure) const {
    Loading loading;
    loading.pressure = pressure;
    loading.normal_pressure = pressure;
    loading.normal_stress = press_.normal_stress;
    loading.edges_loaded = press_.edges_loaded;
    loading.tool = &tool_;
    loading.contact = contact_law(model_, solver_.settings(), press_.tool_friction, pressure);
    loading.damping = solver_.settings().viscosity + damping_;
    return loading;
  }

  // Rests the sheet on the tool with the penetration that carries a whisper of pressure, and sizes the first
  // step.
  void lay_down() {
    state_ = initial_state(model_);
    const Loading loading = loading_at(kLayDownPressure);
    if (!model_.blank.rim_held) lower(kLayDownPressure / loading.contact.stiffness);
    state_.pressure = kLayDownPressure;
    const Balance at_rest = solver_.evaluate(state_, state_.place, loading, false);
    volume_gradient_ = at_rest.pressure_force;
    const Eigen::VectorXd response = solver_.response_to_pressure(state_, loading);
    const double motion = response.size() ? largest_motion(response, model_.equations) : 0;
    if (!(motion > 0))
      throw SolveError("the blank is not held at the start: nothing under it resists the pressure");
    const double pressure = kFirstMotion * model_.blank.thickness / motion;
    path_ = Path(model_.equations, solver_.settings(), pressure * volume_gradient_.dot(response));
  }

  // Moves the sheet down until its lowest contact point stands in the tool. On a slope the gap is shorter
  // than the way down, so it takes a few moves.
  void lower(double penetration) {
    for (int i = 0; i < kMostLowerings; ++i) {
      const double way = smallest_gap(state_, tool_) + penetration;
      if (!(std::abs(way) > 0.1 * penetration)) return;
      state_.place.positions.col(2).array() -= way;
      for (TriangleMemory& memory : state_.memory) memory.middle.z() -= way;
    }
  }

  void advance(double target) {
    while (state_.pressure < target * (1 - 1e-9)) {
      if (monitor_.stop_requested()) throw Stopped("stopped by the user");
      const Path::Attempt attempt = path_.next(state_, target);
      const std::optional<Guess> guess = best_guess(attempt.guesses);
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
        if (!path_.cut()) lean_on_damping(result);
      }
    }
  }

  // The guess least out of balance. None, while the increment may be shortened, where it would be a poor
  // start: deep in the tool most of it is motion that the tool will stop, and a guess much farther out of
  // balance than the last ones were has run over something new, such as the flange landing on the wall.
  std::optional<Guess> best_guess(const std::vector<Guess>& guesses) {
    std::optional<Guess> best;
    double least = std::numeric_limits<double>::infinity();
    double tolerable = 0;
    for (const Guess& guess : guesses) {
      const Balance predicted = solver_.evaluate(state_, guess.place, loading_for(guess), false);
      const bool deep = predicted.smallest_gap < -kDeepPrediction * model_.blank.thickness;
      if (path_.may_shorten() && (!predicted.valid || deep)) continue;
      const double out_of_balance = predicted.valid ? predicted.out_of_balance.norm() : least;
      if (best && out_of_balance >= least) continue;
      best = guess;
      least = out_of_balance;
      tolerable = tolerances().force * std::max(guess.pressure, tolerances().least_pressure) *
                  predicted.pressure_force.norm();
    }
    const bool jump = starts_ >= kStartsToLearn && least > std::max(kJump * usual_start_, tolerable);
    if (jump && path_.may_shorten()) return std::nullopt;
    start_ = least;
    return best;
  }

  // What guesses are usually out of balance by; it halves with each increment that starts better.
  void learn_start() {
    usual_start_ = std::max(start_, starts_ < kStartsToLearn ? 0.0 : 0.5 * usual_start_);
    starts_ += 1;
  }

  [[nodiscard]] Loading loading_for(const Guess& guess) const {
    return loading_at(std::max(guess.pressure, kLayDownPressure));
  }

  // A last resort where the sheet snaps: damping that fades again, counted in the work it does.
  void lean_on_damping(const IncrementResult& result) {
    if (damping_ > kLastResortDamping) give_up(result);
    damping_ = damping_ > 0 ? 10 * damping_ : kLastResortDamping;
    path_.restart(1e-3 * model_.blank.thickness * volume_gradient_.lpNorm<1>());
    monitor_.note("no balance without damping at " + std::to_string(state_.pressure) +
                  " MPa; damping added, its work is counted");
  }

  [[noreturn]] void give_up(const IncrementResult& result) const {
    std::ostringstream message;
    message << "no equilibrium beyond " << state_.pressure << " MPa: " << result.reason
            << place_of_impasse(model_, state_, result, &tool_);
    throw SolveError(message.str());
  }

  void take(const IncrementResult& result) {
    record_.external_work += work_of_fluid(result);
    record_.friction_work += result.balance.friction_work;
    record_.plastic_work = result.balance.plastic_work;
    record_.regularisation_work += result.balance.damping_work;
    learn_start();
    record_.increments += 1;
    SheetState next = accept(model_, state_, result.place, result.balance, result.pressure);
    path_.accepted(state_, result, thinning_shift(model_, state_, next));
    state_ = std::move(next);
    volume_gradient_ = result.balance.pressure_force;
    damping_ = damping_ > kLeastDamping ? kDampingFade * damping_ : 0;
    report(Phase::forming, result);
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
    const Tolerances tight{1e-6, 1e-3, 0};
    for (int i = 0;; ++i) {
      const Loading loading = loading_at(peak_);
      const IncrementResult result =
          solver_.solve(state_, {state_.place, peak_}, loading, Control{}, volume_gradient_, tight);
      record_.iterations_dwell += result.iterations;
      if (!result.converged) give_up(result);
      const double motion =
          largest_motion(difference(result.place, state_.place, model_.equations), model_.equations);
      record_.external_work += work_of_fluid(result);
      record_.friction_work += result.balance.friction_work;
      record_.plastic_work = result.balance.plastic_work;
      state_ = accept(model_, state_, result.place, result.balance, peak_);
      volume_gradient_ = result.balance.pressure_force;
      const bool rests = motion < 1e-4 * model_.blank.thickness;
      if (rests || i == kMostDwellIncrements) {
        if (!rests)
          monitor_.note("the sheet does not come to rest at full pressure: it still moves by " +
                        std::to_string(motion) + " mm; do not trust its springback");
        record_balance(result);
        report(Phase::dwell, result);
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

  void report(Phase phase, const IncrementResult&) {
    Progress progress;
    progress.phase = phase;
    progress.pressure = state_.pressure;
    progress.target_pressure = peak_;
    progress.increments = record_.increments;
    progress.iterations = record_.iterations;
    progress.worst_thinning = worst_thinning(state_);
    progress.share_done = kShareBeforeRelease * share_done();
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
  Path path_;
  double damping_ = 0;
  double start_ = 0;        // out-of-balance force of the guess in use [N]
  double usual_start_ = 0;  // [N]
  int starts_ = 0;          // of accepted increments
};

}  // namespace

ContactLaw contact_law(const SheetModel& model, const SolverSettings& settings, double friction,
                       double pressure) {
  const double thickness = model.blank.thickness;
  ContactLaw law;
  law.stiffness = std::max(pressure, kSoftestContactPressure) / (settings.penetration_share * thickness);
  law.friction = friction;
  law.slip_limit = settings.slip_share * thickness;
  return law;
}

FormedPart form(IncrementSolver& solver, const mesh::ToolSurface& tool, const PressSpec& press,
                Monitor& monitor, RunRecord& record) {
  const OtherTime other(record);
  return Pressing(solver, tool, press, monitor, record).run();
}

}  // namespace halftool::solver
