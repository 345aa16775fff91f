// Strip of the straight-flange bracket: see flange_strip.hpp.
#include "tests/verification/flange_strip.hpp"

#include <gtest/gtest.h>

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

}  // namespace
}  // namespace halftool::test
