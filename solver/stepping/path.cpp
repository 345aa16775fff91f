#include "solver/stepping/path.hpp"

#include <algorithm>
#include <cmath>

namespace halftool::solver {
namespace {

// Growth of the pressure allowed in an increment beside the relative one, so that folding can start from
// nothing.
constexpr double kPressureOffset = 0.1;  // [MPa]
// An accepted increment may exceed the aim, in motion or pressure, by this factor; beyond it is repeated
// shorter.
constexpr double kTolerance = 1.6;
// Growth of the plastic strain at any point in one increment: folds take up to 0.06. Where a bend runs tight
// a single pair of triangles may otherwise buckle against each other within an increment and stay so.
constexpr double kMostStraining = 0.15;
// What strains more however short the increment is gives way by itself. Counted over increments that were all
// cut: ever shorter ones would else creep towards the place where it does, without end.
constexpr int kCutsToStrain = 4;
constexpr int kMostCuts = 12;
// Pressure leads once this many increments in a row changed the pressure much while the sheet hardly moved,
// or moved next to nothing: there the volume is made of the gaps that the pressure closes, and leads nowhere.
constexpr int kStillIncrements = 3;
constexpr double kStillMotion = 0.1;         // of the largest motion
constexpr double kNextToNoMotion = 1e-3;     // of the largest motion
constexpr double kLeastPressureToLead = 20;  // [MPa], when the last gaps have closed
// Beyond that pressure it also leads, and no increment starts from a prediction any more, once this many in a
// row took many iterations while the pressure took far more of what it may than the motion: spans that flow
// in all layers step to and fro, which a prediction carries on.
constexpr int kLongIncrements = 2;
constexpr int kLongIteration = 8;
constexpr double kCalm = 3;  // share of the pressure's growth over that of the motion
double largest_straining(const std::vector<PointState>& before, const std::vector<PointState>& after) {
  double largest = 0;
  for (std::size_t i = 0; i < after.size(); ++i)
    largest = std::max(largest, after[i].equivalent_plastic_strain - before[i].equivalent_plastic_strain);
  return largest;
}

}  // namespace

Path::Path(const Equations& equations, const SolverSettings& settings, double first_volume,
           bool always_predicts)
    : equations_(&equations),
      settings_(settings),
      always_predicts_(always_predicts),
      volume_step_(first_volume) {}

double Path::pressure_limit(double pressure) const {
  return settings_.pressure_growth * pressure + kPressureOffset;
}

double Path::leading(const Leg& leg) const {
  return kind_ == Control::Kind::pressure ? leg.pressure : leg.volume;
}

// Divided differences in the leading quantity over the last two increments, of second and of first order.
// After a cut, and where predictions lead astray, the last place, kept in contact: however short the
// increment, the sheet must first close the gap that its thinning opened.
std::vector<Guess> Path::predict(const SheetState& committed, double step) const {
  if (!predicts())
    return {
        {shift_.size() ? moved(committed.place, *equations_, shift_) : committed.place, committed.pressure}};
  const double s1 = leading(legs_[0]);
  const double s2 = leading(legs_[1]);
  if (s1 <= 0 || step > 2.5 * s1) return {{committed.place, committed.pressure}};
  const double cap = 0.3 * committed.pressure + kPressureOffset;
  const auto guess = [&](const Eigen::VectorXd& change, double pressure) -> Guess {
    return {moved(committed.place, *equations_, change),
            committed.pressure + std::clamp(pressure, -cap, cap)};
  };
  const Eigen::VectorXd change = legs_[0].change * (step / s1);
  const double pressure = legs_[0].pressure * (step / s1);
  if (legs_[1].change.size() == 0 || s2 <= 0) return {guess(change, pressure)};
  const double second = step * (step + s1) / (s1 + s2);
  return {guess(change + second * (legs_[0].change / s1 - legs_[1].change / s2),
                pressure + second * (legs_[0].pressure / s1 - legs_[1].pressure / s2)),
          guess(change, pressure)};
}

Path::Attempt Path::next(const SheetState& committed, double target) const {
  Attempt attempt;
  attempt.control.kind = kind_;
  const double limit = pressure_limit(committed.pressure);
  if (kind_ == Control::Kind::pressure) {
    const double step = std::min(target - committed.pressure, pressure_share_ * limit);
    attempt.guesses = predict(committed, step);
    for (Guess& guess : attempt.guesses) guess.pressure = committed.pressure + step;
    return attempt;
  }
  attempt.control.volume = volume_step_;
  attempt.guesses = predict(committed, volume_step_);
  if (attempt.guesses[0].pressure >= target && target - committed.pressure <= limit) {
    attempt.control.kind = Control::Kind::pressure;
    for (Guess& guess : attempt.guesses) guess.pressure = target;
  }
  return attempt;
}

bool Path::acceptable(const SheetState& committed, const IncrementResult& result, double target) const {
  const double motion = largest_motion(difference(result.place, committed.place, *equations_), *equations_);
  return result.pressure <= target * (1 + 1e-9) && motion <= kTolerance * settings_.largest_motion &&
         result.pressure - committed.pressure <= kTolerance * pressure_limit(committed.pressure) &&
         (cuts_lately_ >= kCutsToStrain ||
          largest_straining(committed.points, result.balance.points) <= kMostStraining);
}

void Path::choose_control(const Leg& leg, double motion, double limit) {
  const double share = motion / settings_.largest_motion;
  const bool still =
      share < kNextToNoMotion || (share < kStillMotion && std::abs(leg.pressure) > 0.4 * limit);
  still_ = still ? still_ + 1 : 0;
  if (kind_ == Control::Kind::volume && still_ >= kStillIncrements && legs_[0].pressure > 0) {
    kind_ = Control::Kind::pressure;
    pressure_share_ = 1;
  }
}

void Path::watch_predictions(const Leg& leg, int iterations, double motion, double limit) {
  const bool calm = leg.pressure / limit > kCalm * motion / settings_.largest_motion;
  long_ = calm && iterations > kLongIteration ? long_ + 1 : 0;
  if (long_ < kLongIncrements || led_astray_ || always_predicts_) return;
  led_astray_ = true;
  if (!pressure_leads()) pressure_share_ = std::min(1.0, leg.pressure / limit);
  kind_ = Control::Kind::pressure;
}

void Path::accepted(const SheetState& committed, const IncrementResult& result, Eigen::VectorXd shift) {
  Leg leg{result.volume, result.pressure - committed.pressure,
          difference(result.place, committed.place, *equations_)};
  const double motion = largest_motion(leg.change, *equations_);
  const double limit = pressure_limit(committed.pressure);
  // A sheet that lifts off a flat rim or web row by row, or one that is not predicted, takes its iterations
  // in a short increment as in a long one. The first increment starts from no prediction and tells nothing.
  const bool setting_out = !under_way_ && legs_[0].change.size() != 0;
  under_way_ = under_way_ || motion >= kStillMotion * settings_.largest_motion;
  const double effort = setting_out || led_astray_ || result.iterations <= 6 ? 1.7
                        : result.iterations <= 12                            ? 1.2
                                                                             : 0.8;
  const double room =
      std::min(settings_.largest_motion / std::max(motion, 1e-12), limit / std::max(leg.pressure, 1e-12));
  const double factor = std::clamp(std::min(effort, room), 0.2, 1.7);
  legs_[1] = std::move(legs_[0]);
  legs_[0] = std::move(leg);
  shift_ = std::move(shift);
  if (kind_ == Control::Kind::volume)
    volume_step_ = std::abs(result.volume) * factor;
  else
    pressure_share_ = std::clamp(pressure_share_ * factor, 0.01, 1.0);
  const bool led_by_volume = kind_ == Control::Kind::volume;
  if (result.pressure > kLeastPressureToLead) {
    choose_control(legs_[0], motion, limit);
    watch_predictions(legs_[0], result.iterations, motion, limit);
  }
  if (led_by_volume && pressure_leads()) still_ = 0;
  if (cuts_ == 0) cuts_lately_ = 0;
  cuts_ = 0;
  shortened_ = 0;
}

void Path::restart(double volume) {
  Path fresh(*equations_, settings_, volume, always_predicts_);
  fresh.shift_ = std::move(shift_);
  fresh.under_way_ = under_way_;
  *this = std::move(fresh);
}

void Path::shorten() {
  shortened_ += 1;
  (kind_ == Control::Kind::pressure ? pressure_share_ : volume_step_) *= 0.5;
}

bool Path::cut() {
  cuts_lately_ += 1;
  if (++cuts_ > kMostCuts) return false;
  if (kind_ == Control::Kind::pressure) {
    pressure_share_ *= 0.4;
    if (cuts_ >= 3 && legs_[0].volume > 0) {  // something gives way: let the volume lead again
      kind_ = Control::Kind::volume;
      led_astray_ = false;
      long_ = 0;
      volume_step_ = 0.2 * legs_[0].volume;
      still_ = 0;
    }
    return true;
  }
  volume_step_ *= 0.4;
  return true;
}

}  // namespace halftool::solver
