#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "mesh/tool_surface.hpp"
#include "tests/support/curved_block.hpp"
#include "tests/support/stl_files.hpp"

namespace halftool::mesh {
namespace {

std::vector<RadiusPatch> radii_of(const ToolShape& shape) {
  ToolSpec spec;
  spec.shape = shape;
  return find_radii(make_tool(spec));
}

TEST(FindRadii, StraightBlockHasItsTwoEdges) {
  const auto patches = radii_of(StraightBlock{150, 60, 35, 3});
  ASSERT_EQ(patches.size(), 2U);
  for (const auto& patch : patches) {
    EXPECT_TRUE(patch.convex);
    EXPECT_NEAR(patch.radius, 3, 0.003 * 3);
  }
}

TEST(FindRadii, CavityHasItsConvexLipHollowWallAndOuterWall) {
  auto patches = radii_of(RoundCavity{50, 6, 30, 90});
  std::sort(patches.begin(), patches.end(), [](const auto& a, const auto& b) { return a.radius < b.radius; });
  ASSERT_EQ(patches.size(), 3U);
  EXPECT_NEAR(patches[0].radius, 6, 0.01 * 6);
  EXPECT_TRUE(patches[0].convex);
  EXPECT_NEAR(patches[1].radius, 50, 0.01 * 50);
  EXPECT_FALSE(patches[1].convex);
  EXPECT_NEAR(patches[2].radius, 90, 0.01 * 90);
  EXPECT_TRUE(patches[2].convex);
}

TEST(FindRadii, CurvedStepBlockHasItsFilletAndItsHollowWall) {
  const halftool::testing::PassingFile file("block.step");
  halftool::testing::write_step({}, file.path());
  StepShape shape;
  shape.path = file.path();
  const auto patches = radii_of(shape);
  const auto largest = [&](bool convex) {
    std::size_t best = 0;
    double radius = 0;
    for (const auto& patch : patches) {
      if (patch.convex == convex && patch.facets.size() > best) {
        best = patch.facets.size();
        radius = patch.radius;
      }
    }
    return radius;
  };
  EXPECT_NEAR(largest(true), 4, 0.02 * 4);
  EXPECT_NEAR(largest(false), 100, 0.02 * 100);
}

}  // namespace
}  // namespace halftool::mesh
