// Groove filled by pressure, with s3 and without: see corner_fill.hpp.
#include "tests/verification/corner_fill.hpp"

#include <gtest/gtest.h>

#include <string>

#include "solver/assembly/sheet_model.hpp"

namespace halftool::test {
namespace {

TEST(CornerFill, RadiusFallsAsTheMembraneSays) {
  CornerFill setup;
  setup.pressure = 30;
  setup.normal_stress = false;
  const CornerPath path = fill_corner(setup);
  EXPECT_EQ(path.broken_off, "");
  const CornerState& last = path.states.back();
  RecordProperty("over_wall", std::to_string(last.pressure / membrane_pressure(last)));
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

// Force along the sheet that the pad's share of the fluid asks for in the corner, over what the wall between
// fluid and tool bears, see wall_pressure.
double over_wall(const CornerState& state, double smallest_pad_radius) {
  const double inside = state.radius - 0.5 * state.thickness;
  const double asked = solver::pad_share(1 / inside, smallest_pad_radius) * state.pressure * inside;
  return asked / (state.wall - state.pressure * state.thickness);
}

// With a pad that enters hollows of 16 mm only the corner stops between that radius and half of it, where
// the wall bears what the pad lets through; more pressure hardly fills it further. 0.08 as above.
TEST(CornerFill, APadThatIsTooStiffLeavesTheCornerOpen) {
  CornerFill setup;
  setup.pressure = 40;
  const CornerState filled = fill_corner(setup).states.back();
  ASSERT_LT(filled.radius - 0.5 * filled.thickness,
            8);  // the fluid alone goes below half of the pad's radius
  setup.smallest_pad_radius = 16;
  for (const double pressure : {40.0, 80.0}) {
    setup.pressure = pressure;
    const CornerPath bridged = fill_corner(setup);
    EXPECT_EQ(bridged.broken_off, "");
    const CornerState& last = bridged.states.back();
    RecordProperty("over_wall_at_" + std::to_string(static_cast<int>(pressure)),
                   std::to_string(over_wall(last, setup.smallest_pad_radius)));
    EXPECT_NEAR(over_wall(last, setup.smallest_pad_radius), 1, 0.08);
  }
}

}  // namespace
}  // namespace halftool::test
