#pragma once
#include <algorithm>
#include <cmath>
#include <limits>

namespace halftool::solver {

/// Secant steps towards the zero of an increasing function, kept between the points known to lie on its two
/// sides: where hardly any fibre is elastic the function is nearly a staircase, on which the secant alone
/// jumps.
class BracketedSecant {
 public:
  /// @param slope    first guess, > 0
  /// @param longest  step while the zero is not yet bracketed
  BracketedSecant(double slope, double longest) : slope_(slope), longest_(longest) {}

  /// Next place to try, from the value at this one. The function may shift a little between calls.
  double next(double at, double value) {
    if (has_last_ && at != last_at_) {
      const double secant = (value - last_value_) / (at - last_at_);
      if (secant > 0) slope_ = secant;
    }
    has_last_ = true;
    last_at_ = at;
    last_value_ = value;
    (value > 0 ? above_ : below_) = at;
    const bool bracketed = std::isfinite(above_ - below_);
    if (bracketed && above_ - below_ < 1e-14) above_ = -(below_ = -std::numeric_limits<double>::infinity());
    const double target = at - std::clamp(value / slope_, -longest_, longest_);
    if (!bracketed || (target > below_ && target < above_)) return target;
    return 0.5 * (above_ + below_);
  }

 private:
  double slope_, longest_;
  bool has_last_ = false;
  double last_at_ = 0, last_value_ = 0;
  double below_ = -std::numeric_limits<double>::infinity();
  double above_ = std::numeric_limits<double>::infinity();
};

}  // namespace halftool::solver
