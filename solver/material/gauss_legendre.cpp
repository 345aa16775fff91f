#include "solver/material/gauss_legendre.hpp"

#include <cmath>
#include <numbers>

namespace halftool::solver {
namespace {

struct Legendre {
  double value, slope;
};

/// P_n(x) and its derivative by the three-term recurrence, |x| < 1.
Legendre legendre(int n, double x) {
  double previous = 1;
  double value = x;
  for (int k = 2; k <= n; ++k) {
    const double next = ((2 * k - 1) * x * value - (k - 1) * previous) / k;
    previous = value;
    value = next;
  }
  return {value, n * (previous - x * value) / (1 - x * x)};
}

}  // namespace

ThicknessRule gauss_legendre(int n) {
  ThicknessRule rule{Eigen::VectorXd::Zero(n), Eigen::VectorXd::Zero(n)};
  for (int i = 0; i < (n + 1) / 2; ++i) {
    double x =
        i == n / 2 ? 0 : std::cos(std::numbers::pi * (i + 0.75) / (n + 0.5));  // the middle one of odd n is 0
    for (int iteration = 0; iteration < 10; ++iteration) {
      if (i == n / 2) break;
      const Legendre p = legendre(n, x);
      const double step = p.value / p.slope;
      x -= step;
      if (std::abs(step) < 1e-15) break;
    }
    const double slope = legendre(n, x).slope;
    rule.zeta[i] = -0.5 * x;
    rule.zeta[n - 1 - i] = 0.5 * x;
    rule.weight[i] = rule.weight[n - 1 - i] = 1 / ((1 - x * x) * slope * slope);
  }
  return rule;
}

}  // namespace halftool::solver
