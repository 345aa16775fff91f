#include "solver/material/yield_test.hpp"

#include <cmath>

#include "solver/material/plane_yield.hpp"

namespace halftool::solver {
namespace {

/// A condition at the stress of a test.
struct TestPoint {
  double equivalent;         ///< of the unit stress
  Eigen::Vector3d gradient;  ///< direction of plastic flow
};

/// @param stress  [11 + 22, 11 - 22, 2*12], of unit size
TestPoint point_of(const YieldCondition& yield, const Eigen::Vector3d& stress) {
  const PlaneModuli unit(1, 0);  // elasticity has no part in it
  return std::visit(
      [&](const auto& of) -> TestPoint {
        const double equivalent = of.equivalent(stress);
        return {equivalent, of.normal(stress / equivalent).gradient};
      },
      moving_yield(plane_yield(unit, yield)));
}

}  // namespace

YieldTest tension_test(const YieldCondition& yield, double angle) {
  const double cosine = std::cos(2 * angle);
  const double sine = std::sin(2 * angle);
  const TestPoint at = point_of(yield, {1, cosine, sine});
  const double thinning = 2 * at.gradient[0];
  const double width = at.gradient[0] - at.gradient[1] * cosine - at.gradient[2] * sine;
  return {1 / at.equivalent, -width / thinning};
}

YieldTest equibiaxial_test(const YieldCondition& yield) {
  const TestPoint at = point_of(yield, {2, 0, 0});
  return {1 / at.equivalent, (at.gradient[0] - at.gradient[1]) / (at.gradient[0] + at.gradient[1])};
}

}  // namespace halftool::solver
