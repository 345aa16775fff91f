#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "solver/material/hardening.hpp"

namespace halftool::solver {

/// The plastic multiplier of the plane return map: the root of 1/sqrt(sum_i (A_i/(sigma + a_i g))^2) = 1 in
/// g = increment of equivalent plastic strain, sigma = flow stress at committed + g. The left side is a
/// concave, increasing function of concave, increasing functions of g, so Newton's iterates from g = 0 (left
/// of the root) approach the root from the left and never leave the bracket. Halley's steps, of third order,
/// take fewer; from the left they are at most twice Newton's here, from the right shorter than its.
/// The left side increases also where sigma is not concave: Newton's steps that leave the bracket known so
/// far then halve it.
/// @param A     parts of the trial equivalent stress, its root mean square sum [MPa]
/// @param a     how fast each relaxes [MPa]
/// @param flow  flow stress at g = 0 on entry, at the root on return
/// @return g, or a negative number if 60 iterations were not enough (input not finite)
template <class Curve, std::size_t n>
[[gnu::always_inline]] inline double plastic_multiplier(const Curve& curve, double committed,
                                                        const std::array<double, n>& A,
                                                        const std::array<double, n>& a, FlowStress& flow) {
  constexpr int kMaxIterations = 60;
  double squares = 0, relaxing = 0;
  for (std::size_t i = 0; i < n; ++i) {
    squares += A[i] * A[i];
    relaxing += A[i] * A[i] * a[i];
  }
  // Newton's step from g = 0
  double g = (std::sqrt(squares) - flow.stress) / (relaxing / squares + flow.slope);
  flow = flow_stress_after(curve, flow, committed, committed + g);
  [[maybe_unused]] double low = 0;
  [[maybe_unused]] double high = std::numeric_limits<double>::infinity();
  for (int iteration = 0; iteration < kMaxIterations; ++iteration) {
    double sum = 0, slope = 0, square_slope = 0, by_bend = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const double over = 1 / (flow.stress + a[i] * g);
      const double square = (A[i] * over) * (A[i] * over);
      const double relative = (flow.slope + a[i]) * over;
      sum += square;
      slope += square * relative;
      square_slope += square * relative * relative;
      by_bend += square * over;
    }
    // value = sum^(-1/2) - 1; its slope = sum^(-3/2) times the slope above
    const double residual = std::sqrt(sum) - 1;
    const double per_slope = 1 / slope;
    const double newton = sum * residual * per_slope;
    const double before = g;
    if constexpr (is_concave<Curve>) {
      // bend of the value over its slope, times the step
      const double turn = 3 * residual - newton * per_slope * (3 * square_slope - flow.bend * by_bend);
      g = std::max(0.0, g + newton / (1 + std::max(-0.5, 0.5 * turn)));
    } else {
      (residual > 0 ? low : high) = g;
      g += newton;
      if (!(g >= low && g <= high)) g = high < HUGE_VAL ? 0.5 * (low + high) : low;
    }
    flow = flow_stress_after(curve, flow, committed + before, committed + g);
    // What is left is of the order of 1e-14: quadratic and cubic. A curve may bend sharply where strain
    // starts.
    const double size = std::abs(residual);
    if (size < 1e-7) return g;
    if (is_concave<Curve> && size < 3e-5 && std::abs(g - before) < 1e-3 * (committed + g)) return g;
  }
  return -1;
}

}  // namespace halftool::solver
