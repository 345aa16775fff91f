#include "mesh/screens/openings.hpp"

#include <gtest/gtest.h>

#include "tests/support/cuboids.hpp"

namespace halftool::mesh {
namespace {

constexpr double dip = 0.1;

/// Two blocks 60 mm long along y with a gap between them, each 30 mm wide.
ToolSurface two_blocks(double gap, double height, double lower_by = 0) {
  return halftool::testing::tool_of({{{-30 - gap / 2, -30, 0}, {-gap / 2, 30, height}},
                                     {{gap / 2, -30, 0}, {30 + gap / 2, 30, height - lower_by}}});
}

TEST(Openings, GapBetweenTwoBlocksIsOneSlot) {
  const ToolSurface tool = two_blocks(4, 10);
  const auto openings = find_openings(ToolView(tool), 20, dip);
  ASSERT_EQ(openings.size(), 1U);
  EXPECT_NEAR(openings[0].width, 4, 1e-9);
  EXPECT_NEAR(openings[0].depth, 10, 1e-9);
  EXPECT_GE(openings[0].length, 60);
  EXPECT_FALSE(openings[0].is_hole());
  EXPECT_NEAR(openings[0].at.x(), 0, 1e-9);
  EXPECT_NEAR(openings[0].at.z(), 10, 1e-9);
}

TEST(Openings, DepthCountsFromTheLowerRim) {
  const ToolSurface tool = two_blocks(4, 10, 3);
  const auto openings = find_openings(ToolView(tool), 20, dip);
  ASSERT_EQ(openings.size(), 1U);
  EXPECT_NEAR(openings[0].depth, 7, 1e-9);
}

TEST(Openings, WiderGapsAndSingleBlocksHaveNone) {
  const ToolSurface apart = two_blocks(25, 10);
  EXPECT_TRUE(find_openings(ToolView(apart), 20, dip).empty());
  const ToolSurface one = halftool::testing::tool_of({{{-30, -30, 0}, {30, 30, 10}}});
  EXPECT_TRUE(find_openings(ToolView(one), 200, dip).empty());
}

TEST(Openings, RoofedGapIsNoOpening) {
  const ToolSurface tool = halftool::testing::tool_of(
      {{{-32, -30, 0}, {-2, 30, 10}}, {{2, -30, 0}, {32, 30, 10}}, {{-40, -40, 12}, {40, 40, 14}}});
  EXPECT_TRUE(find_openings(ToolView(tool), 20, dip).empty());
}

TEST(Openings, DrilledHoleHasItsDiameter) {
  ToolSpec spec;
  spec.shape = RoundCavity{3, 0.15, 10, 12};
  const ToolSurface tool = make_tool(spec);
  const auto openings = find_openings(ToolView(tool), 20, dip);
  ASSERT_EQ(openings.size(), 1U);
  EXPECT_NEAR(openings[0].width, 6, 0.01 * 6);  // facets of 6 degrees
  EXPECT_NEAR(openings[0].length, 6, 0.02 * 6);
  EXPECT_TRUE(openings[0].is_hole());
  EXPECT_NEAR(openings[0].depth, 10, 1e-6);
  EXPECT_NEAR(openings[0].at.norm(), 0, 0.05);
}

TEST(Openings, EachOfTwoParallelSlotsIsFound) {
  const ToolSurface tool = halftool::testing::tool_of(
      {{{-20, -30, 0}, {-8, 30, 10}}, {{-5, -30, 0}, {5, 30, 10}}, {{9, -30, 0}, {20, 30, 10}}});
  const auto openings = find_openings(ToolView(tool), 8, dip);
  ASSERT_EQ(openings.size(), 2U);
  EXPECT_NEAR(openings[0].width, 3, 1e-9);
  EXPECT_NEAR(openings[1].width, 4, 1e-9);
}

}  // namespace
}  // namespace halftool::mesh
