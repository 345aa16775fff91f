// Strip of the straight-flange bracket: see flange_strip.hpp.
#include "tests/verification/flange_strip.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

namespace halftool::test {
namespace {

FlangeResult press_regular(double radius, double elements) {
  FlangeStrip setup;
  setup.material = sheet_6061_o();
  setup.model = StripModel::crossed;
  setup.edge_radius = radius;
  setup.elements_per_bend = elements;
  const FlangeResult pressed = press_flange(setup);
  EXPECT_TRUE(pressed.rests);
  EXPECT_EQ(pressed.regularisation_work, 0);
  return pressed;
}

double over_pure_bend(const FlangeResult& pressed, double radius) {
  FlangeStrip setup;
  setup.material = sheet_6061_o();
  setup.edge_radius = radius;
  const double ratio = pressed.springback / pure_bend_springback(setup);
  testing::Test::RecordProperty("over_pure_bend", std::to_string(ratio));
  return ratio;
}

// The full form converges: 1.13 and 0.73. Mesh and settings here are the program's own, which leave 0.05
// degrees of 1.35 and of 4.40 open.
TEST(FlangeStrip, SpringsBackMoreThanThePureBendOverASharpEdge) {
  const FlangeResult pressed = press_regular(3, 10);
  EXPECT_NEAR(over_pure_bend(pressed, 3), 1.13, 0.04);
  EXPECT_NEAR(pressed.thinning, 0.018, 0.003);
}

TEST(FlangeStrip, SpringsBackLessThanThePureBendOverALargeRadius) {
  EXPECT_NEAR(over_pure_bend(press_regular(16, 20), 16), 0.73, 0.02);
}

// Unevenness that starts waves on other flanges must not mark a plain one.
TEST(FlangeStrip, HardlyFeelsAnUnevenBlank) {
  FlangeStrip setup;
  setup.material = sheet_6061_o();
  setup.model = StripModel::free_sides;
  setup.elements_per_bend = 6;
  const double flat = press_flange(setup).springback;
  setup.flatness.amplitude = 0.01;
  const FlangeResult uneven = press_flange(setup);
  const double difference = (uneven.springback - flat) * 180 / std::numbers::pi;
  RecordProperty("difference_deg", std::to_string(difference));
  EXPECT_TRUE(uneven.rests);
  EXPECT_NE(difference, 0);
  EXPECT_LT(std::abs(difference), 0.01);
}

}  // namespace
}  // namespace halftool::test
