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

SheetMaterial swift(double modulus, double strength, double pre_strain, double exponent) {
  SheetMaterial material;
  material.youngs_modulus = modulus;
  material.hardening = SwiftHardening{strength, pre_strain, exponent};
  return material;
}

// Tensile strength K (n/e)^n: 288 and 858 MPa. The constants are those of a deep-drawing steel and of a
// dual-phase one, rounded.
TEST(FormingLimit, KnowsTheMetalsThatTheEstimateWasMadeFor) {
  EXPECT_TRUE(is_low_carbon_steel(swift(207e3, 530, 0.01, 0.26)));
  EXPECT_FALSE(is_low_carbon_steel(swift(205e3, 1300, 0.001, 0.14)));
  EXPECT_FALSE(is_low_carbon_steel(swift(69e3, 205, 0.001, 0.20)));
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

// A cold-worked sheet, n below its pre-strain: by its law it bears no stretching, and what stretches is
// beyond.
TEST(FormingLimit, AMetalThatNecksAtYieldHasLeftItsLimitBehind) {
  const SheetMaterial hard = swift(207e3, 420, 0.049, 0.045);
  const FormingLimit limit = estimated_limit(hard, 1);
  for (const double minor : {-0.01, 0.0, 0.02}) EXPECT_GT(limit_share(limit, 0.02, minor), 1) << minor;
  EXPECT_EQ(limit_share(limit, -0.01, -0.1), 0);
}

TEST(FormingLimit, SaysWhenTheSheetIsThickerThanTheFormula) {
  EXPECT_FALSE(estimated_limit(hollomon(0.2), 3).thickness_capped());
  EXPECT_TRUE(estimated_limit(hollomon(0.2), 3.2).thickness_capped());
  EXPECT_DOUBLE_EQ(estimated_limit(hollomon(0.2), 3.2).plane_strain,
                   estimated_limit(hollomon(0.2), 3).plane_strain);
}

TEST(FormingLimit, KeepsWhatTheEstimateWasMadeFrom) {
  const EstimatedLimit limit = estimated_limit(hollomon(0.3), 1.2);
  EXPECT_NEAR(limit.exponent, 0.3, 1e-8);
  EXPECT_EQ(limit.thickness, 1.2);
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

MeasuredLimit measured() {
  return {{{-0.25, 0.50}, {-0.10, 0.36}, {0, 0.28}, {0.12, 0.33}, {0.30, 0.36}}};  // invented
}

TEST(MeasuredLimit, IsStraightBetweenItsPointsAndNothingBeyond) {
  const FormingLimit limit = measured();
  EXPECT_DOUBLE_EQ(limit_major(limit, -0.10), 0.36);
  EXPECT_DOUBLE_EQ(limit_major(limit, -0.05), 0.32);
  EXPECT_DOUBLE_EQ(limit_major(limit, 0.21), 0.345);
  EXPECT_TRUE(std::isnan(limit_major(limit, -0.26)));
  EXPECT_TRUE(std::isnan(limit_major(limit, 0.31)));
}

TEST(MeasuredLimit, PointsOnTheCurveHaveShareOne) {
  const FormingLimit limit = measured();
  for (const double minor : {-0.25, -0.2, -0.1, -1e-4, 0.0, 0.06, 0.12, 0.2, 0.30}) {
    const double major = limit_major(limit, minor);
    EXPECT_NEAR(limit_share(limit, major, minor), 1, 1e-8) << minor;
    EXPECT_NEAR(limit_share(limit, 0.3 * major, 0.3 * minor), 0.3, 1e-8) << minor;
  }
}

TEST(MeasuredLimit, PathsBesideThePointsAreNotJudged) {
  const FormingLimit limit = measured();
  EXPECT_TRUE(std::isnan(limit_share(limit, 0.1, -0.051)));  // the first point lies at minor/major = -0.5
  EXPECT_FALSE(std::isnan(limit_share(limit, 0.1, -0.0499)));
  EXPECT_TRUE(std::isnan(limit_share(limit, 0.1, 0.084)));  // the last at 0.833
  EXPECT_EQ(limit_share(limit, -0.01, -0.1), 0);            // nothing stretches
}

TEST(MeasuredLimit, PointsOfTheEstimateJudgeAsTheEstimateDoes) {
  const FormingLimit estimate = estimated_limit(hollomon(0.18), 1.2);
  MeasuredLimit points;
  for (const double minor : {-0.3, 0.0, 0.3}) points.points.emplace_back(minor, limit_major(estimate, minor));
  for (const double path : {-0.4, -0.1, 0.0, 0.2, 0.6})
    EXPECT_NEAR(limit_share(points, 0.1, 0.1 * path), limit_share(estimate, 0.1, 0.1 * path), 1e-12) << path;
}

TEST(PathReach, IsTheFirstMeetingOfALineThatFoldsBack) {
  EXPECT_DOUBLE_EQ(path_reach({{-1, 1}, {1, 1}, {1, 3}, {-1, 2}}, {0, 0.5}), 2);
  EXPECT_TRUE(std::isinf(path_reach({{1, 1}, {2, 1}}, {0, 0.5})));
}

}  // namespace
}  // namespace halftool::solver
