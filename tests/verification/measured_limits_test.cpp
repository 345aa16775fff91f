#include "tests/verification/measured_limits.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::test {
namespace {

// Without rate sensitivity the groove takes over too early in this steel: the computed limit stays on the
// safe side of the measured one in plane strain, and not by more than half of it.
TEST(MeasuredLimits, OfSteelLieAboveTheComputedInPlaneStrain) {
  const auto rows = limits_of_measured_paths();
  for (const std::size_t i : {0U, 1U}) {
    EXPECT_LT(rows.at(i).value, rows.at(i).reference) << rows.at(i).path;
    EXPECT_GT(rows.at(i).value, 0.5 * rows.at(i).reference) << rows.at(i).path;
  }
}

TEST(MeasuredLimits, RateSensitivityIsWhatTheComputedLimitLacks) {
  const double n = exponent_of_measured_steel();
  EXPECT_NEAR(plane_strain_limit_with_rate(n, 0.02, 0.005), limits_of_measured_paths().at(0).reference, 0.02);
  // without rate: the exact balance of groove_necking.hpp
  const double slow = plane_strain_limit_with_rate(n, 1e-5, 0.005);
  EXPECT_NEAR(n * std::log(slow) - slow, std::log1p(-0.005) + n * std::log(n) - n, 5e-4);
}

}  // namespace
}  // namespace halftool::test
