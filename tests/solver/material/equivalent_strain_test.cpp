// Equivalent strain as the conjugate of a yield condition.
#include "solver/material/equivalent_strain.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/material/plane_coordinates.hpp"
#include "solver/material/yld2000_fit.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;

MovingYield yield_of(const YieldCondition& yield) {
  return moving_yield(plane_yield(PlaneModuli(70000, 0.33), yield));
}

/// AA6022-T4: Tian and others (2016), seen as quoted.
Yld2000 aluminium() {
  return {8, {0.919, 1.072, 1.204, 1.109, 0.992, 0.892, 0.957, 1.098}};
}

TEST(EquivalentStrain, OfVonMisesIsTheClosedForm) {
  const MovingYield yield = yield_of(VonMises{});
  for (const Vector3d& e : {Vector3d(0.1, -0.05, 0), Vector3d(0.1, 0, 0), Vector3d(0.1, 0.1, 0),
                            Vector3d(0.03, -0.02, 0.05), Vector3d(-0.1, 0.02, 0)}) {
    const double shear = e[2] / 2;
    EXPECT_NEAR(equivalent_strain(yield, e),
                std::sqrt(4.0 / 3 * (e[0] * e[0] + e[1] * e[1] + e[0] * e[1] + shear * shear)), 1e-14);
  }
  EXPECT_EQ(equivalent_strain(yield, Vector3d::Zero()), 0);
}

TEST(EquivalentStrain, IsTheStrainOfATensileTestAlongRolling) {
  const RValues r{1.8, 1.5, 2.2};
  EXPECT_NEAR(equivalent_strain(yield_of(r), Vector3d(0.1, -0.1 * 1.8 / 2.8, 0)), 0.1, 1e-12);
  const double r0 = tension_test(aluminium(), 0).r_value;
  const double ratio = tension_test(aluminium(), 0).ratio;  // of the yield stress over the flow stress
  EXPECT_NEAR(equivalent_strain(yield_of(aluminium()), Vector3d(0.1, -0.1 * r0 / (1 + r0), 0)), 0.1 * ratio,
              1e-8);
}

TEST(EquivalentStrain, OfASmoothConditionOfExponentTwoIsThatOfVonMises) {
  const MovingYield smooth = yield_of(Yld2000{2, {1, 1, 1, 1, 1, 1, 1, 1}});
  const Vector3d strain(0.03, -0.02, 0.05);
  EXPECT_NEAR(equivalent_strain(smooth, strain), equivalent_strain(yield_of(VonMises{}), strain), 1e-9);
}

// No stress on the yield surface does more work, some stress does as much; also where the surface is flat.
TEST(EquivalentStrain, IsTheLargestWorkOfAllStressesOnTheYieldSurface) {
  for (const YieldCondition& condition : {YieldCondition(RValues{0.7, 0.6, 0.7}), YieldCondition(aluminium()),
                                          YieldCondition(Yld2000{8, {1, 1, 1, 1, 1, 1, 1, 1}})}) {
    const MovingYield yield = yield_of(condition);
    for (int i = 0; i < 24; ++i) {
      const double angle = i * std::numbers::pi / 12;
      for (const double shear : {0.0, 0.3}) {
        const Vector3d strain(0.1 * std::cos(angle), 0.1 * std::sin(angle), 0.1 * shear);
        double most = 0;
        for (int a = 0; a < 360; ++a)
          for (int b = -45; b <= 45; ++b) {
            const double turn = a * std::numbers::pi / 180, lift = b * std::numbers::pi / 90;
            const Vector3d ray(std::cos(turn) * std::cos(lift), std::sin(turn) * std::cos(lift),
                               std::sin(lift));
            const double size = std::visit([&](const auto& of) { return of.equivalent(ray); }, yield);
            most = std::max(most, strain_coordinates(strain).dot(ray) / size);
          }
        const double found = equivalent_strain(yield, strain);
        EXPECT_GE(found, most * (1 - 1e-9)) << i;
        EXPECT_NEAR(found, most, 2e-3 * most) << i;  // looks are a degree or two apart
        EXPECT_NEAR(equivalent_strain(yield, 7 * strain), 7 * found, 1e-7 * found);
      }
    }
  }
}

}  // namespace
}  // namespace halftool::solver
