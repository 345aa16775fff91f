#include "mesh/screens/mirror_image.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/support/cuboids.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

constexpr double far = std::numeric_limits<double>::infinity();

/// A sheet of 1 mm, 60 by 60 mm, over a block 10 mm high.
SheetReach reach() {
  BlankSpec spec;
  spec.outline = RectangleOutline{60, 60};
  spec.thickness = 1;
  return {spec, 10};
}

TEST(MirrorImage, OfABlockThatStandsAside) {
  const auto tool = testing::tool_of({{{-20, -15, 0}, {20.5, 15, 10}}});
  EXPECT_FALSE(find_mirror_difference(tool, 1, reach(), far, 0.01).has_value());
  const auto found = find_mirror_difference(tool, 0, reach(), far, 0.01);
  ASSERT_TRUE(found.has_value());
  EXPECT_NEAR(found->distance, 0.5, 1e-9);
  EXPECT_NEAR(found->at.x(), 20.5, 1e-9);
  EXPECT_FALSE(find_mirror_difference(tool, 0, reach(), far, 0.51).has_value());
  EXPECT_FALSE(find_mirror_difference(tool, 0, reach(), 19, 0.01).has_value());
}

// What stands on one side only lies within the large facet that it stands on.
TEST(MirrorImage, OfAHeelOnOneSide) {
  const auto tool = testing::tool_of({{{-20, -15, 0}, {20, 15, 10}}, {{5, 3, 10}, {7, 5, 12}}});
  for (const int axis : {0, 1}) {
    const auto found = find_mirror_difference(tool, axis, reach(), far, 0.01);
    ASSERT_TRUE(found.has_value());
    EXPECT_NEAR(found->distance, 2, 1e-9);
    EXPECT_NEAR(found->at.z(), 12, 1e-9);
  }
}

// The walls lie 10 mm within the sheet's edge and deeper than it reaches, or beyond it.
TEST(MirrorImage, LooksWhereTheSheetCanComeToLie) {
  const auto deep = testing::tool_of({{{-20, -15, 0}, {20, 15, 10}}, {{-20, -15, -20}, {19, 15, -10}}});
  EXPECT_FALSE(find_mirror_difference(deep, 0, reach(), far, 0.01).has_value());
  const auto wide = testing::tool_of({{{-35, -15, 0}, {45, 15, 10}}});
  EXPECT_FALSE(find_mirror_difference(wide, 0, reach(), far, 0.01).has_value());
}

// Facets of a round that are not mirrored themselves: their curved surfaces are.
TEST(MirrorImage, IsThatOfTheCurvedFacets) {
  const auto round_at = [](double shift) {
    return testing::tool_over_square(14, 5, 0.3, [shift](double u, double v) {
      const double angle = 2 * (u - 0.5);
      const Vector3d normal(std::sin(angle), 0, std::cos(angle));
      return testing::SurfacePoint{Vector3d(shift, 24 * (v - 0.5), -10) + 20 * normal, normal};
    });
  };
  EXPECT_FALSE(find_mirror_difference(round_at(0), 0, reach(), far, 2e-3).has_value());
  const auto found = find_mirror_difference(round_at(0.01), 0, reach(), far, 2e-3);
  ASSERT_TRUE(found.has_value());
  EXPECT_GT(found->distance, 5e-3);
}

TEST(MirrorImage, SidesLeaveTheFloorOut) {
  const auto tool = testing::tool_of({{{-2, -15, 0}, {20, 16, 10}}, {{-90, -90, -1}, {90, 90, 0}}});
  EXPECT_EQ(sides_of_plane(tool, 0).beyond, 90);
  ToolSpec spec;
  spec.shape = StraightBlock{.length = 30, .width = 8, .height = 15, .edge_radius = 3};
  spec.for_measuring = true;
  const SidesOfPlane sides = sides_of_plane(make_tool(spec), 1);
  EXPECT_NEAR(sides.before, -4, 1e-9);
  EXPECT_NEAR(sides.beyond, 4, 1e-9);
}

}  // namespace
}  // namespace halftool::mesh
