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

// A pad that enters hollows of 16 mm only: the corner stops between that radius and half of it, and more
// pressure hardly fills it further.
TEST(CornerFill, APadThatIsTooStiffLeavesTheCornerOpen) {
  CornerFill setup;
  setup.pressure = 40;
  const double filled = fill_corner(setup).states.back().radius;
  setup.smallest_pad_radius = 16;
  const auto inside = [](const CornerState& state) { return state.radius - 0.5 * state.thickness; };
  const CornerPath bridged = fill_corner(setup);
  EXPECT_EQ(bridged.broken_off, "");
  const double at_40 = inside(bridged.states.back());
  ASSERT_LT(filled, 8);  // the fluid alone goes below half of the pad's radius
  EXPECT_GT(at_40, 8);
  EXPECT_LT(at_40, 16);
  setup.pressure = 80;
  const CornerPath more = fill_corner(setup);
  EXPECT_EQ(more.broken_off, "");
  EXPECT_NEAR(inside(more.states.back()), at_40, 0.1 * at_40);
  RecordProperty("radius_at_40", std::to_string(at_40));
  RecordProperty("radius_at_80", std::to_string(inside(more.states.back())));
}

}  // namespace
}  // namespace halftool::test
