#include "mesh/screens/convex_edges.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mesh/screens/blank_corners.hpp"
#include "tests/support/cuboids.hpp"
#include "tests/support/screened_sheet.hpp"

namespace halftool::mesh {
namespace {

using testing::reach_over;

TEST(ConvexEdges, TopOfACuboidFacesThePad) {
  const ToolSurface tool = testing::tool_of({{{-30, -20, 0}, {30, 20, 10}}});
  const auto edges = find_convex_edges(ToolView(tool), reach_over(20, 10), 1);
  EXPECT_NEAR(edges.bare.length, 200, 1e-9);
  EXPECT_EQ(edges.covered.length, 0);
  EXPECT_EQ(edges.bare.radius, 0);
  EXPECT_NEAR(edges.bare.turn, std::numbers::pi / 2, 1e-9);
  EXPECT_NEAR(edges.bare.at.z(), 10, 1e-9);
}

TEST(ConvexEdges, LiesUnderALargerSheet) {
  const ToolSurface tool = testing::tool_of({{{-30, -20, 0}, {30, 20, 10}}});
  const auto edges = find_convex_edges(ToolView(tool), reach_over(100, 10), 1);
  EXPECT_NEAR(edges.covered.length, 200, 1e-9);
  EXPECT_EQ(edges.bare.length, 0);
}

TEST(ConvexEdges, SmallRadiusCountsAndALargeOneDoesNot) {
  ToolSpec spec;
  const auto covered = [&](double radius) {
    spec.shape = StraightBlock{60, 40, 35, radius};
    const ToolSurface tool = make_tool(spec);
    return find_convex_edges(ToolView(tool), reach_over(200, 35), 1).covered;
  };
  // The part of a quarter circle that looks up by more than a tenth, as a share of its turn.
  const double share = std::acos(0.1) / (std::numbers::pi / 2);
  const auto ends = [&](double radius) {
    return 2 * (60 - 2 * radius) + 2 * std::numbers::pi * radius * share;
  };
  EXPECT_NEAR(covered(3).length, ends(3), 0.01 * ends(3));
  EXPECT_NEAR(covered(0.5).length, ends(0.5) + 80 * share, 0.03 * ends(0.5));  // a facet more or less
  EXPECT_EQ(covered(0.5).radius, 0);
}

TEST(ConvexEdges, LipRoundAHoleTurnsAcrossNotAround) {
  ToolSpec spec;
  spec.shape = RoundCavity{20, 0.8, 10, 40};
  const ToolSurface tool = make_tool(spec);
  const auto lip =
      find_convex_edges(ToolView(tool), {testing::square_blank(48), 0, rims_of(tool.mesh(), -1)}, 1).covered;
  EXPECT_NEAR(lip.turn, std::numbers::pi / 2, 0.1);
  EXPECT_NEAR(lip.radius, 0.8, 0.01);
  // The middle line of the lip; its part that looks sideways is left out.
  const double share = std::acos(0.1) / (std::numbers::pi / 2);
  const double middle = 2 * std::numbers::pi * (20.8 - 0.8 * std::sin(std::numbers::pi / 4));
  EXPECT_NEAR(lip.length, share * middle, 0.06 * middle);
}

TEST(BlankCorners, SharpOnesAreCountedOnce) {
  EXPECT_EQ(find_blank_corners(testing::square_blank(50), 1).size(), 4U);
  EXPECT_EQ(find_blank_corners(testing::square_blank(50, 0.5), 1).size(), 4U);
  EXPECT_EQ(find_blank_corners(testing::square_blank(50, 3), 1).size(), 0U);
}

TEST(BlankCorners, InwardCornersAndCirclesHaveNone) {
  BlankSpec blank = testing::square_blank(50);
  blank.outline = CircleOutline{30};
  EXPECT_TRUE(find_blank_corners(blank, 1).empty());
  blank.outline = PolygonOutline{{{0, 0}, {40, 0}, {40, 40}, {20, 10}, {0, 40}}, {}};
  EXPECT_EQ(find_blank_corners(blank, 1).size(), 4U);
}

}  // namespace
}  // namespace halftool::mesh
