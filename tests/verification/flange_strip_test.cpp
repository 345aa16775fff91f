// Strip of the straight-flange bracket: see flange_strip.hpp.
#include "tests/verification/flange_strip.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

namespace halftool::test {
namespace {

// The full form measures the difference from the pure bend; here that it stays of its size.
TEST(FlangeStrip, SpringsBackByAboutThePureBend) {
  FlangeStrip setup;
  setup.material = sheet_6061_o();
  setup.elements_per_bend = 6;
  const FlangeResult pressed = press_flange(setup);
  RecordProperty("over_pure_bend", std::to_string(pressed.springback / pure_bend_springback(setup)));
  EXPECT_TRUE(pressed.rests);
  EXPECT_NEAR(pressed.springback / pure_bend_springback(setup), 1.15, 0.25);
  EXPECT_NEAR(pressed.thinning, 0.019, 0.006);
}

// Unevenness that starts waves on other flanges must not mark a plain one.
TEST(FlangeStrip, HardlyFeelsAnUnevenBlank) {
  FlangeStrip setup;
  setup.material = sheet_6061_o();
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
