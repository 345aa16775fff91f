#include "io/figures/colour_map.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace halftool::io {
namespace {

void expect_hex(const Rgb& colour, int red, int green, int blue) {
  EXPECT_NEAR(255 * colour.r, red, 0.01);
  EXPECT_NEAR(255 * colour.g, green, 0.01);
  EXPECT_NEAR(255 * colour.b, blue, 0.01);
}

TEST(ColourMap, RunsFromPaleToDarkThroughItsAnchors) {
  expect_hex(ramp_colour(0), 0xF8, 0xEA, 0xC5);
  expect_hex(ramp_colour(0.2), 0xCB, 0xC2, 0xB0);
  expect_hex(ramp_colour(0.6), 0x74, 0x75, 0x87);
  expect_hex(ramp_colour(1), 0x11, 0x32, 0x5F);
  expect_hex(ramp_colour(-3), 0xF8, 0xEA, 0xC5);
  expect_hex(ramp_colour(7), 0x11, 0x32, 0x5F);
}

TEST(ColourMap, LightnessFallsSteadily) {
  // From 93 to 21 in L*; each hundredth takes about its share, so that no part of the scale is flat or jumps.
  double before = to_lab(ramp_colour(0)).x();
  EXPECT_NEAR(before, 93, 0.5);
  for (int i = 1; i <= 100; ++i) {
    const double lightness = to_lab(ramp_colour(i / 100.0)).x();
    EXPECT_NEAR(before - lightness, 0.72, 0.10) << i;
    before = lightness;
  }
  EXPECT_NEAR(before, 21, 0.5);
}

TEST(ColourMap, LabOfKnownColours) {
  // White, and sRGB red: L* 53.24, a* 80.09, b* 67.20 under D65 (IEC 61966-2-1 with CIE 15).
  EXPECT_TRUE(to_lab({1, 1, 1}).isApprox(Eigen::Vector3d(100, 0, 0), 1e-9));
  EXPECT_TRUE(to_lab({1, 0, 0}).isApprox(Eigen::Vector3d(53.24, 80.09, 67.20), 1e-3));
}

TEST(ColourMap, LabAndBackIsTheSameColour) {
  for (const Rgb& colour : {Rgb{0.2, 0.5, 0.9}, Rgb{0.01, 0.0, 0.02}, Rgb{1, 1, 1}}) {
    const Rgb back = from_lab(to_lab(colour));
    EXPECT_NEAR(back.r, colour.r, 1e-9);
    EXPECT_NEAR(back.g, colour.g, 1e-9);
    EXPECT_NEAR(back.b, colour.b, 1e-9);
  }
}

TEST(ColourMap, NoValueHasItsOwnGrey) {
  const Rgb colour = ramp_colour(std::numeric_limits<double>::quiet_NaN());
  EXPECT_EQ(colour.r, no_value.r);
  EXPECT_EQ(colour.r, colour.b);
}

}  // namespace
}  // namespace halftool::io
