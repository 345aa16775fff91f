#include "tests/verification/measured_limits.hpp"

#include <gtest/gtest.h>

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

// Under equal strains the limit hangs on the yield condition: the measured one lies amid the computed.
TEST(MeasuredLimits, OfSteelLieAmidThoseOfYieldConditionsUnderEqualStrains) {
  const auto rows = equibiaxial_limits_by_yield(kRateExponentOfSteel);
  EXPECT_GT(rows.front().value, rows.front().reference + 0.1) << rows.front().path;
  EXPECT_LT(rows.back().value, rows.back().reference - 0.1) << rows.back().path;
}

}  // namespace
}  // namespace halftool::test
