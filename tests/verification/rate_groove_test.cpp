#include "tests/verification/rate_groove.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::test {
namespace {

void expect_met(const std::vector<LimitStrain>& rows) {
  for (const LimitStrain& row : rows) {
    EXPECT_NEAR(row.value, row.reference, row.tolerance) << row.path;
    EXPECT_GT(row.value, 0.01) << row.path;
  }
}

TEST(RateGroove, PlaneStrainIsTheIntegralOfHutchinsonAndNeale) {
  expect_met(rate_grooves_in_plane_strain());
}

TEST(RateGroove, TheIntegralGoesOverIntoTheBalanceWithoutRate) {
  constexpr double n = 0.25;
  const double slow = plane_strain_limit_with_rate(n, 1e-5, 0.005);
  EXPECT_NEAR(n * std::log(slow) - slow, std::log1p(-0.005) + n * std::log(n) - n, 5e-4);
}

TEST(RateGroove, OtherPathsAreThoseOfASecondProgram) {
  expect_met(rate_grooves_on_other_paths());
}

TEST(RateGroove, VanishingRateSensitivityGivesTheMetalWithoutIt) {
  expect_met(rate_grooves_without_rate());
}

TEST(RateGroove, FollowedToTwiceTheRatioEndsAtTheSameLimit) {
  expect_met(rate_grooves_followed_further());
}

TEST(RateGroove, HalvedStepsEndAtTheSameLimit) {
  const auto coarse = rate_grooves_on_other_paths();
  const auto fine = rate_grooves_on_other_paths(2);
  for (std::size_t i = 0; i < coarse.size(); ++i)
    EXPECT_NEAR(coarse[i].value, fine[i].value, 2e-4) << coarse[i].path;
}

}  // namespace
}  // namespace halftool::test
