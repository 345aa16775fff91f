#include "tests/verification/measured_limits.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::test {
namespace {

// Without rate sensitivity the groove takes over too early in this steel: the computed limit stays on the
// safe side of the measured one in plane strain, and not by more than half of it.
TEST(MeasuredLimits, OfSteelLieAboveThoseComputedWithoutRateInPlaneStrain) {
  const auto rows = limits_of_measured_paths(0);
  for (const std::size_t i : {0U, 1U}) {
    EXPECT_LT(rows.at(i).value, rows.at(i).reference) << rows.at(i).path;
    EXPECT_GT(rows.at(i).value, 0.5 * rows.at(i).reference) << rows.at(i).path;
  }
}

TEST(MeasuredLimits, OfSteelAreMetInPlaneStrainWithItsRateSensitivity) {
  const auto rows = limits_of_measured_paths(kRateExponentOfSteel);
  for (const std::size_t i : {0U, 1U})
    EXPECT_NEAR(rows.at(i).value, rows.at(i).reference, rows.at(i).tolerance) << rows.at(i).path;
}

// Under equal strains Hill's condition is too low, and a sharper yield locus comes nearer.
TEST(MeasuredLimits, OfSteelHangOnTheYieldConditionUnderEqualStrains) {
  const auto hill = limits_of_measured_paths(kRateExponentOfSteel).at(2);
  const double sharper = equibiaxial_limit_with_yld2000(kRateExponentOfSteel);
  EXPECT_LT(hill.value, hill.reference - hill.tolerance);
  EXPECT_GT(std::abs(sharper - hill.value), 0.02);
}

}  // namespace
}  // namespace halftool::test
