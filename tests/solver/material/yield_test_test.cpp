#include "solver/material/yield_test.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/yld2000_sheets.hpp"

namespace halftool::solver {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

TEST(YieldTests, OfPublishedCoefficientsOfYld2000) {
  for (const test::Yld2000Sheet& sheet : test::yld2000_sheets()) {
    SCOPED_TRACE(sheet.name);
    for (std::size_t i = 0; i < sheet.ratio.size(); ++i) {
      const YieldTest ours = tension_test(sheet.yield, 15 * kDegree * static_cast<double>(i));
      EXPECT_NEAR(ours.ratio, sheet.ratio.at(i), sheet.ratio_print);
      EXPECT_NEAR(ours.r_value, sheet.r_value.at(i), sheet.r_print);
    }
    EXPECT_NEAR(equibiaxial_test(sheet.yield).ratio, sheet.equibiaxial, sheet.ratio_print);
  }
}

// Hill (1948) in closed form: at an angle a, 1/ratio^2 = G c^4 + F s^4 + H (c^2 - s^2)^2 + 2 N c^2 s^2, and
// in equibiaxial tension G + F; the r-values are those put in.
TEST(YieldTests, OfHill1948) {
  const RValues r{0.8, 0.37, 0.54};
  const double F = 0.8 / (0.54 * 1.8), G = 1 / 1.8, H = 0.8 / 1.8;
  const double N = (1 + 2 * 0.37) * (0.8 + 0.54) / (2 * 0.54 * 1.8);
  for (int angle = 0; angle <= 90; angle += 15) {
    const double c2 = std::pow(std::cos(angle * kDegree), 2), s2 = 1 - c2;
    const double square = G * c2 * c2 + F * s2 * s2 + H * (c2 - s2) * (c2 - s2) + 2 * N * c2 * s2;
    EXPECT_NEAR(tension_test(r, angle * kDegree).ratio, 1 / std::sqrt(square), 1e-12) << angle;
  }
  EXPECT_NEAR(tension_test(r, 0).r_value, 0.8, 1e-12);
  EXPECT_NEAR(tension_test(r, 45 * kDegree).r_value, 0.37, 1e-12);
  EXPECT_NEAR(tension_test(r, 90 * kDegree).r_value, 0.54, 1e-12);
  EXPECT_NEAR(equibiaxial_test(r).ratio, 1 / std::sqrt(G + F), 1e-12);
  EXPECT_NEAR(equibiaxial_test(r).r_value, 0.8 / 0.54, 1e-12);
}

TEST(YieldTests, OfVonMisesAreAllOne) {
  EXPECT_NEAR(tension_test(VonMises{}, 0.3).ratio, 1, 1e-12);
  EXPECT_NEAR(tension_test(VonMises{}, 0.3).r_value, 1, 1e-12);
  EXPECT_NEAR(equibiaxial_test(VonMises{}).ratio, 1, 1e-12);
}

}  // namespace
}  // namespace halftool::solver
