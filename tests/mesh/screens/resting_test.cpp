#include "mesh/screens/resting.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

/// A table of 20 by 10 mm at z = 5 with its corner at the origin.
ToolSurface table() {
  return testing::tool_over_square(2, 1, 0, [](double u, double v) {
    return testing::SurfacePoint{{20 * u, 10 * v, 5}, Eigen::Vector3d::UnitZ()};
  });
}

BlankSpec sheet(double length, double width, const Eigen::Vector2d& place) {
  BlankSpec spec;
  spec.outline = RectangleOutline{length, width};
  spec.thickness = 1;
  spec.place = place;
  return spec;
}

TEST(Resting, TheCentroidAgainstWhatLiesUnderTheBlank) {
  const auto inside = find_resting(table(), sheet(30, 10, {19, 5}), 5);
  ASSERT_TRUE(inside.has_value());
  EXPECT_EQ(inside->outside, 0);
  EXPECT_NEAR(inside->across(), std::hypot(16, 10), 0.1);  // from x = 4 to 20
  const auto beyond = find_resting(table(), sheet(30, 10, {23, 5}), 5);
  EXPECT_NEAR(beyond->outside, 3, 1e-9);
  EXPECT_FALSE(find_resting(table(), sheet(30, 10, {40, 5}), 5).has_value());
}

TEST(Resting, HolesMoveTheCentroidAndSymmetryAddsTheOtherHalf) {
  BlankSpec holed = sheet(30, 10, {19, 5});
  holed.holes.push_back(Hole{{-10, 0}, 3});
  const double hole = 9 * std::acos(-1);
  const double moved = 19 + 10 * hole / (300 - hole);
  EXPECT_NEAR(find_resting(table(), holed, 5)->centroid.x(), moved, 0.01);
  EXPECT_NEAR(find_resting(table(), holed, 5)->outside, moved - 20, 0.01);
  BlankSpec half = sheet(44, 10, {0, 5});
  EXPECT_EQ(find_resting(table(), half, 5)->outside, 0);  // on the table's edge, at x = 0
  half.place.x() = -1;
  EXPECT_NEAR(find_resting(table(), half, 5)->outside, 1, 1e-9);
  half.symmetric_x = true;
  EXPECT_EQ(find_resting(table(), half, 5)->outside, 0);
}

TEST(Resting, OnATipAlone) {
  const ToolSurface cap = testing::tool_over_square(8, 8, 0, [](double u, double v) {
    const Eigen::Vector3d normal = Eigen::Vector3d(0.4 * (u - 0.5), 0.4 * (v - 0.5), 1).normalized();
    return testing::SurfacePoint{20 * normal, normal};
  });
  const auto resting = find_resting(cap, sheet(30, 20, {0, 0}), 20);
  ASSERT_TRUE(resting.has_value());
  EXPECT_EQ(resting->outside, 0);
  EXPECT_LT(resting->across(), 0.45);  // within a micrometre of the crown: 0.2 mm to each side
}

}  // namespace
}  // namespace halftool::mesh
