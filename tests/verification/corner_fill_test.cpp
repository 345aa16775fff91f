// Groove filled by pressure, with s3 and without: see corner_fill.hpp.
#include "tests/verification/corner_fill.hpp"

#include <gtest/gtest.h>

#include <string>

namespace halftool::test {
namespace {

TEST(CornerFill, RadiusFallsAsTheMembraneSays) {
  CornerFill setup;
  setup.pressure = 30;
  setup.normal_stress = false;
  const CornerPath path = fill_corner(setup);
  EXPECT_EQ(path.broken_off, "");
  const CornerState& last = path.states.back();
  RecordProperty("over_membrane", std::to_string(last.pressure / membrane_pressure(last)));
  // Without s3 the pad face, smaller by t/2r, bears more than the membrane, by p/2S. 0.08: the radius is a
  // fit to a free part of few elements.
  EXPECT_NEAR(last.pressure / membrane_pressure(last), 1 + last.pressure / (2 * last.yield), 0.08);
  EXPECT_LT(last.radius, 0.6 * setup.half_width);
}

TEST(CornerFill, TheWallBetweenTwoPressuresFlowsFirst) {
  CornerFill setup;
  setup.pressure = 40;
  const CornerPath path = fill_corner(setup);
  EXPECT_EQ(path.broken_off, "");
  const CornerState& last = path.states.back();
  RecordProperty("over_wall", std::to_string(last.pressure / wall_pressure(last)));
  EXPECT_NEAR(last.pressure / wall_pressure(last), 1, 0.03);
  EXPECT_LT(last.pressure, 0.97 * solid_pressure(last));  // the effect under test
}

}  // namespace
}  // namespace halftool::test
