#include "solver/stepping/increment.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>
#include <vector>

namespace halftool::solver {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

double clock_seconds() {
  return std::chrono::duration<double>(Clock::now().time_since_epoch()).count();
}

double counted_seconds(const RunRecord& record) {
  return record.seconds_factor + record.seconds_solve + record.seconds_element;
}

// Tangent stiffness added per area far from balance [MPa/mm]; it fades with the residual and leaves no trace.
constexpr double kTangentDamping = 0.1;
// Largest correction of a node in one iteration, over the mean edge length.
constexpr double kCorrectionShare = 2.0;
constexpr double kLargestTurn = 0.5;  // of a mid-side normal in one iteration [rad]
constexpr int kLineSearches = 4;
// Where the sheet is close to buckling, forces fall to nothing while places still move: a force this much
// below its tolerance ends the iteration, whatever the motion.
constexpr double kQuiet = 0.25;
// Out-of-balance force of a node over the fluid's on it, per tolerance of the whole. The whole is a sum of
// squares that large triangles rule: where a mesh is graded, places in its fine part could drift out of
// balance unseen. A bracket's even mesh reaches 2.5 of the 3.2 that the default makes of it.
constexpr double kNodeTolerance = 80;
constexpr double kLeastArea = 1e-12;  // [mm2] keeps edges, which have none, from dividing by zero
// A guess scatters by far more than a penetration, so that which points touch in it is noise: the first
// correction is that of the points which touched at the last accepted state, unless they stand off by more
// than this [mm].
constexpr double kKeptWithin = 0.05;
// Unstable tangents in an iteration after which it is unlikely to reach the place that the sheet snaps to.
constexpr int kMostUnstable = 3;

double norm(const Eigen::VectorXd& v) {
  return v.size() ? v.norm() : 0.0;
}

double largest_turn(const Eigen::VectorXd& change, const Equations& equations) {
  double largest = 0;
  for (const int eq : equations.turn)
    if (eq >= 0) largest = std::max(largest, std::abs(change(eq)));
  return largest;
}

Eigen::VectorXd node_areas(const SheetModel& model) {
  Eigen::VectorXd area = Eigen::VectorXd::Zero(model.equations.count);
  for (int t = 0; t < model.n_triangles(); ++t)
    for (int i = 0; i < 9; ++i)
      if (const int eq = model.triangle_equations(t, i); eq >= 0) area(eq) += model.references[t].area / 3;
  return area;
}

Loading keeping_contact(Loading loading) {
  loading.contact.kept_within = kKeptWithin;
  return loading;
}

// Watches an iteration for creeping: where contact opens and closes, the line search may keep cutting the
// step to next to nothing. After two such steps one full step is taken on trust; an iteration that then still
// creeps, or whose residual has not fallen over many steps, is given up early, for a shorter increment is
// cheaper.
class Headway {
 public:
  [[nodiscard]] bool search() const { return short_steps_ < kShortInARow; }

  void took(double share) {
    if (!search()) {
      short_steps_ = 0;
      leaps_ += 1;
    } else {
      short_steps_ = share < kShortStep ? short_steps_ + 1 : 0;
    }
  }

  [[nodiscard]] bool hopeless(double misfit) {
    history_.push_back(misfit);
    if (leaps_ > kMostLeaps) return true;
    return history_.size() > kWindow && misfit > 0.7 * history_[history_.size() - 1 - kWindow];
  }

 private:
  static constexpr double kShortStep = 0.1;
  static constexpr int kShortInARow = 2;
  static constexpr int kMostLeaps = 2;
  static constexpr std::size_t kWindow = 14;
  std::vector<double> history_;
  int short_steps_ = 0;
  int leaps_ = 0;
};

}  // namespace

OtherTime::OtherTime(RunRecord& record)
    : record_(record), counted_(counted_seconds(record)), start_(clock_seconds()) {}

OtherTime::~OtherTime() {
  record_.seconds_other += clock_seconds() - start_ - (counted_seconds(record_) - counted_);
}

struct IncrementSolver::Trial {
  SheetPlace place;
  double pressure = 0;
  double volume = 0;  // still to displace
  Balance balance;
};

struct IncrementSolver::Correction {
  bool valid = false;
  Eigen::VectorXd change;
  double pressure = 0;
  double scale = 1;  // of the full Newton step that was kept
  bool unstable = false;
};

IncrementSolver::IncrementSolver(const SheetModel& model, const SolverSettings& settings, RunRecord& record)
    : model_(model),
      settings_(settings),
      record_(record),
      threads_(settings.threads > 0 ? settings.threads
                                    : std::max(1, static_cast<int>(std::thread::hardware_concurrency()))),
      pattern_(model.triangle_equations, model.equations.count),
      system_(pattern_, equation_groups(model.equations), threads_),
      node_area_(node_areas(model)) {}

void IncrementSolver::hold(const Eigen::VectorXi& equations, double stiffness) {
  held_ = equations;
  held_stiffness_ = stiffness;
}

Balance IncrementSolver::evaluate(const SheetState& committed, const SheetPlace& place,
                                  const Loading& loading, bool want_stiffness) {
  const auto start = Clock::now();
  Balance result = balance(model_, pattern_, committed, place, loading, want_stiffness, threads_);
  if (dead_load_.size()) result.out_of_balance -= dead_load_;
  if (held_.size()) {
    const Eigen::VectorXd motion = difference(place, committed.place, model_.equations);
    for (const int eq : held_) {
      result.out_of_balance(eq) += held_stiffness_ * motion(eq);
      if (want_stiffness) result.stiffness(pattern_.diagonal_slot(eq)) += held_stiffness_;
    }
  }
  record_.seconds_element += seconds_since(start);
  return result;
}

FactorOutcome IncrementSolver::factorise(const Eigen::VectorXd& stiffness, double relative_out_of_balance) {
  const auto start = Clock::now();
  Eigen::VectorXd damped = stiffness;
  const double fade = std::min(1.0, relative_out_of_balance / 10);
  for (int eq = 0; eq < model_.equations.count; ++eq)
    damped(pattern_.diagonal_slot(eq)) += kTangentDamping * fade * node_area_(eq);
  FactorOutcome outcome = system_.factorise(damped);
  record_.factorisations += 1;
  if (outcome.negative_pivots > 0) record_.indefinite_factorisations += 1;
  record_.seconds_factor += seconds_since(start);
  return outcome;
}

Eigen::VectorXd IncrementSolver::response_to_pressure(const SheetState& committed, const Loading& loading) {
  const Balance at_rest = evaluate(committed, committed.place, loading, true);
  if (!at_rest.valid || !factorise(at_rest.stiffness, 0).ok) return {};
  return system_.solve(at_rest.pressure_force);
}

// With the volume given, one direction of negative stiffness is held by the fluid if the pressure falls along
// it: the bordered matrix then has no more negative eigenvalues than its one border.
IncrementSolver::Correction IncrementSolver::correct(const Trial& trial, const Control& control,
                                                     const Eigen::VectorXd& volume_gradient,
                                                     double reference) {
  Correction correction;
  const FactorOutcome factors =
      factorise(trial.balance.stiffness, norm(trial.balance.out_of_balance) / reference);
  if (!factors.ok) return correction;
  int runaway_directions = factors.negative_pivots;
  const auto start = Clock::now();
  Eigen::MatrixXd rhs(model_.equations.count, 2);
  rhs << -trial.balance.out_of_balance, trial.balance.pressure_force;
  if (control.kind == Control::Kind::pressure) {
    correction.change = system_.solve(rhs.leftCols(1));
  } else {
    const Eigen::MatrixXd solution = system_.solve(rhs);
    const double per_pressure = volume_gradient.dot(solution.col(1));
    correction.pressure = (trial.volume - volume_gradient.dot(solution.col(0))) / per_pressure;
    if (per_pressure < 0) runaway_directions -= 1;
    const double cap = 0.3 * trial.pressure + 0.1;
    correction.pressure = std::clamp(correction.pressure, -cap, cap);
    correction.change = solution.col(0) + correction.pressure * solution.col(1);
  }
  record_.seconds_solve += seconds_since(start);
  correction.unstable = runaway_directions > 0;
  if (!correction.change.allFinite()) return correction;
  const double motion = largest_motion(correction.change, model_.equations);
  const double turn = largest_turn(correction.change, model_.equations);
  const double cap = kCorrectionShare * model_.mean_edge_length();
  correction.scale = std::min({1.0, cap / std::max(motion, 1e-30), kLargestTurn / std::max(turn, 1e-30)});
  correction.change *= correction.scale;
  correction.pressure *= correction.scale;
  correction.valid = true;
  return correction;
}

// Line search on the work of the out-of-balance force along the correction: secant steps until it has fallen
// to 0.8 of its start (common practice; Matthies and Strang 1979 in spirit). Returns the share of the step
// taken.
double IncrementSolver::step_along(const SheetState& committed, const Correction& correction, bool search,
                                   Loading loading, Trial& trial) {
  const SheetPlace from = trial.place;
  const double pressure = trial.pressure;
  const double start = trial.balance.out_of_balance.dot(correction.change);
  const double start_norm = norm(trial.balance.out_of_balance);
  double eta = 1;
  for (int count = 0;; ++count) {
    trial.place = moved(from, model_.equations, eta * correction.change);
    trial.pressure = pressure + eta * correction.pressure;
    loading.pressure = trial.pressure;
    // The full step mostly stands; where contact is kept its tangent is of no use.
    const bool want_stiffness = count == 0 && loading.contact.kept_within == 0;
    trial.balance = evaluate(committed, trial.place, loading, want_stiffness);
    if (count > 0) record_.line_search_evaluations += 1;
    if (count == kLineSearches) return eta;
    if (!trial.balance.valid) {
      eta *= 0.5;
      continue;
    }
    if (!search) return eta;
    const double slope = trial.balance.out_of_balance.dot(correction.change);
    const bool small = norm(trial.balance.out_of_balance) <= 0.5 * start_norm;
    if (small || std::abs(slope) <= 0.8 * std::abs(start)) return eta;
    const double secant = start / (start - slope);
    eta *= std::clamp(secant, 0.15, 0.6);
  }
}

// Out-of-balance force over what is allowed, of the whole or of the worst node.
double IncrementSolver::misfit_of(const Trial& trial, double out_of_balance,
                                  const Tolerances& tolerances) const {
  const double of_whole = out_of_balance / tolerances.force;
  if (tolerances.reference_force > 0) return of_whole;
  const double pressure = std::max(std::abs(trial.pressure), tolerances.least_pressure);
  const Eigen::VectorXd per_area =
      trial.balance.out_of_balance.cwiseQuotient(node_area_.cwiseMax(kLeastArea));
  const double of_node = largest_of_nodes(per_area, model_.equations);
  return std::max(of_whole, of_node / (kNodeTolerance * tolerances.force * pressure));
}

IncrementResult IncrementSolver::solve(const SheetState& committed, const Guess& guess,
                                       const Loading& loading, const Control& control,
                                       const Eigen::VectorXd& volume_gradient, const Tolerances& tolerances) {
  IncrementResult result;
  Trial trial{guess.place, guess.pressure, 0, {}};
  Loading now = loading;
  bool from_guess = tolerances.give_up_early;
  auto refresh = [&] {
    now.pressure = trial.pressure;
    if (trial.balance.stiffness.size() == 0)
      trial.balance = evaluate(committed, trial.place, now, !from_guess);
    const double displaced = volume_gradient.dot(difference(trial.place, committed.place, model_.equations));
    result.volume = displaced;
    trial.volume = control.volume - displaced;
  };
  refresh();
  double last_motion = 0;
  int unstable = 0;
  Headway progress;
  for (result.iterations = 0;; ++result.iterations) {
    if (!trial.balance.valid) {
      result.reason = "the strain left the range of the material law";
      break;
    }
    const double reference = tolerances.reference_force > 0
                                 ? tolerances.reference_force
                                 : std::max(std::abs(trial.pressure), tolerances.least_pressure) *
                                       norm(trial.balance.pressure_force);
    result.out_of_balance = norm(trial.balance.out_of_balance) / reference;
    const double misfit = misfit_of(trial, result.out_of_balance, tolerances);
    const bool volume_met =
        control.kind == Control::Kind::pressure || std::abs(trial.volume) <= 1e-3 * std::abs(control.volume);
    if (misfit <= 1 && volume_met && (last_motion <= tolerances.motion || misfit <= kQuiet)) {
      result.converged = true;
      break;
    }
    if (result.iterations == settings_.most_iterations) {
      result.reason = "no balance after " + std::to_string(result.iterations) + " iterations";
      break;
    }
    if (progress.hopeless(misfit) && tolerances.give_up_early) {
      result.reason = "the iteration makes no headway";
      break;
    }
    if (from_guess) trial.balance = evaluate(committed, trial.place, keeping_contact(now), true);
    const Correction correction = correct(trial, control, volume_gradient, reference);
    if (!correction.valid) {
      result.reason = "the stiffness is singular";
      break;
    }
    if (correction.unstable && ++unstable > kMostUnstable && tolerances.give_up_early) {
      result.reason = "the sheet snaps";
      break;
    }
    if (from_guess) {
      step_along(committed, correction, true, keeping_contact(now), trial);
      trial.balance = {};
      from_guess = false;
    } else {
      progress.took(step_along(committed, correction, progress.search(), now, trial));
    }
    last_motion = largest_motion(correction.change, model_.equations);
    refresh();
  }
  result.unstable = unstable > 0;
  result.place = std::move(trial.place);
  result.pressure = trial.pressure;
  result.balance = std::move(trial.balance);
  return result;
}

}  // namespace halftool::solver
