#include "solver/stepping/guess_choice.hpp"

#include <algorithm>
#include <limits>

namespace halftool::solver {
namespace {

constexpr double kDeep = 0.1;      // of the thickness
constexpr double kJump = 4;        // out-of-balance force over the usual
constexpr int kStartsToLearn = 4;  // before there is a usual

}  // namespace

std::optional<Guess> GuessChoice::best(const std::vector<Guess>& guesses,
                                       const std::function<Balance(const Guess&)>& evaluate,
                                       const Tolerances& tolerances, bool may_shorten) {
  std::optional<Guess> best;
  double least = std::numeric_limits<double>::infinity();
  double tolerable = 0;
  for (const Guess& guess : guesses) {
    const Balance predicted = evaluate(guess);
    const bool deep = predicted.smallest_gap < -kDeep * thickness_;
    if (may_shorten && (!predicted.valid || deep)) continue;
    const double out_of_balance = predicted.valid ? predicted.out_of_balance.norm() : least;
    if (best && out_of_balance >= least) continue;
    best = guess;
    least = out_of_balance;
    tolerable = tolerances.force * std::max(guess.pressure, tolerances.least_pressure) *
                predicted.pressure_force.norm();
  }
  const bool jump = starts_ >= kStartsToLearn && least > std::max(kJump * usual_, tolerable);
  if (jump && may_shorten) return std::nullopt;
  start_ = least;
  return best;
}

// The usual halves with each increment that starts better.
void GuessChoice::accepted() {
  usual_ = std::max(start_, starts_ < kStartsToLearn ? 0.0 : 0.5 * usual_);
  starts_ += 1;
}

}  // namespace halftool::solver
