// Ears of a round cup (Hill 1950, ch. XII, from memory): along the rim's hoop direction a high r-value takes
// the metal from the thickness into the radius, so an ear stands a quarter turn from it. Coarse and thicker
// than the problem of the suite (cup-earing), which has the heights: here their places.
#include "tests/verification/cup_ears.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

namespace halftool::test {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

EaringCup coarse_setup(const solver::RValues& r) {
  EaringCup setup;
  setup.r = r;
  setup.thickness = 2;
  setup.pressure = 6;
  setup.edge_length = 5;
  return setup;
}

CupRim coarse_cup(const solver::RValues& r) {
  const EaringCup setup = coarse_setup(r);
  CupRim rim = press_cup(setup);
  ::testing::Test::RecordProperty("from_trough_to_ear", std::to_string(rim.four_ears()));
  EXPECT_TRUE(rim.rests);
  EXPECT_LT(rim.lift, 0.05 * setup.thickness);  // a rim that waves tells nothing of ears
  return rim;
}

// A tenth of a millimetre is a twentieth of the thickness; the mesh alone, without anisotropy, leaves less.
constexpr double kEar = 0.1;

TEST(CupEars, StandAlongAndAcrossRollingWhereTheRValueIsLowestBetween) {
  const CupRim rim = coarse_cup({1.6, 0.7, 1.6});
  EXPECT_GT(rim.four_ears(), kEar);
  EXPECT_GT(rim.radius_at(0), rim.radius_at(45 * kDegree) + kEar);
  EXPECT_GT(rim.radius_at(90 * kDegree), rim.radius_at(45 * kDegree) + kEar);
  // An even hoop force (own arithmetic): the rim shortens by three times as much at the ears as between. The
  // finer mesh of the suite holds 0.003.
  const EaringCup setup = coarse_setup({1.6, 0.7, 1.6});
  for (const double degrees : {0.0, 45.0, 90.0}) {
    const double strain = rim_strain(setup, degrees * kDegree, rim.shortening());
    EXPECT_NEAR(rim.hoop_at(degrees * kDegree), strain, 0.005) << degrees;
  }
}

TEST(CupEars, StandBetweenWhereTheRValueIsHighestBetween) {
  const CupRim rim = coarse_cup({0.7, 1.6, 0.7});
  EXPECT_LT(rim.four_ears(), -kEar);
  EXPECT_NEAR(rim.largest_at() / kDegree, 45, 6);
}

TEST(CupEars, AreNoneWithoutAnisotropy) {
  EXPECT_LT(std::abs(coarse_cup({1, 1, 1}).four_ears()), 0.3 * kEar);
}

}  // namespace
}  // namespace halftool::test
