#include "solver/assessment/forming_limit.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::solver {
namespace {

SheetMaterial hollomon(double n) {
  SheetMaterial material;
  material.hardening = SwiftHardening{500, 1e-9, n};
  return material;
}

// Keeler and Brazier 1977, worked values of the formula for 1 mm: 37.43 % at n >= 0.21, 26.74 % at n = 0.15.
TEST(FormingLimit, ReproducesWorkedValuesOfTheEstimate) {
  EXPECT_NEAR(std::expm1(estimated_limit(hollomon(0.21), 1).plane_strain), 0.3743, 5e-5);
  EXPECT_NEAR(std::expm1(estimated_limit(hollomon(0.15), 1).plane_strain), 0.2674, 5e-5);
  EXPECT_NEAR(estimated_limit(hollomon(0.15), 2).plane_strain, 0.3136, 5e-5);
  // the pre-strain of 1e-9 is part of the uniform strain
  EXPECT_NEAR(estimated_limit(hollomon(0.4), 1).plane_strain, estimated_limit(hollomon(0.21), 1).plane_strain,
              1e-8);
}

TEST(FormingLimit, SaysWhenTheSheetIsThickerThanTheFormula) {
  EXPECT_FALSE(estimated_limit(hollomon(0.2), 3).thickness_capped);
  EXPECT_TRUE(estimated_limit(hollomon(0.2), 3.2).thickness_capped);
  EXPECT_DOUBLE_EQ(estimated_limit(hollomon(0.2), 3.2).plane_strain,
                   estimated_limit(hollomon(0.2), 3).plane_strain);
}

TEST(FormingLimit, PointsOnTheCurveHaveShareOne) {
  const FormingLimit limit = estimated_limit(hollomon(0.18), 1.2);
  for (const double minor : {-0.2, -0.1, -1e-4, 0.0, 1e-4, 0.1, 0.2})
    EXPECT_NEAR(limit_share(limit, limit_major(limit, minor), minor), 1, 1e-12) << minor;
}

TEST(FormingLimit, ShareGrowsInProportionAlongAPath) {
  const FormingLimit limit = estimated_limit(hollomon(0.18), 1.2);
  for (const double path : {-0.5, 0.0, 0.7})
    EXPECT_NEAR(limit_share(limit, 0.2, 0.2 * path), 2 * limit_share(limit, 0.1, 0.1 * path), 1e-12);
}

TEST(FormingLimit, PureCompressionUsesNothing) {
  const FormingLimit limit = estimated_limit(hollomon(0.18), 1.2);
  EXPECT_EQ(limit_share(limit, -0.01, -0.1), 0);
  EXPECT_EQ(limit_share(limit, 0.05, -0.2), 0);
}

}  // namespace
}  // namespace halftool::solver
