#pragma once
#include <cmath>

namespace halftool::solver {

/// Whether power_near_one is exact to rounding at 1 + x for exponents between 0 and 1: the sixth term of the
/// series is below 1e-16 then.
inline bool is_near_one(double x) {
  return std::abs(x) <= 1.0 / 256;
}

/// (1 + x)^n - 1 by the binomial series; a fifth of the cost of a power.
/// @pre is_near_one(x), 0 <= n <= 1
inline double power_near_one(double x, double n) {
  return n * x *
         (1 + (n - 1) / 2 * x * (1 + (n - 2) / 3 * x * (1 + (n - 3) / 4 * x * (1 + (n - 4) / 5 * x))));
}

}  // namespace halftool::solver
