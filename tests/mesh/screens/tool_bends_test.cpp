// The outside edges of tool halves whose measures are known.
#include "mesh/screens/tool_bends.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/screened_sheet.hpp"

namespace halftool::mesh {
namespace {

using std::numbers::pi;
using testing::square_blank;

ToolSurface block(double wall_angle = pi / 2) {
  ToolSpec spec;
  spec.shape = StraightBlock{60, 100, 35, 3, wall_angle};
  return make_tool(spec);
}

ToolSurface cavity(double facet_angle = ToolSpec().facet_angle) {
  ToolSpec spec;
  spec.shape = RoundCavity{30, 4, 40, 80};
  spec.facet_angle = facet_angle;
  return make_tool(spec);
}

/// A square blank with a round hole about the origin.
BlankSpec holed_blank(double side, double hole_radius) {
  BlankSpec blank = square_blank(side);
  blank.holes.push_back({{0, 0}, hole_radius});
  return blank;
}

TEST(ToolBends, StraightBlockHasTwo) {
  const ToolSurface tool = block();
  const auto bends = find_tool_bends(ToolView(tool), {square_blank(90), 35});
  ASSERT_EQ(bends.size(), 2U);
  for (const ToolBend& bend : bends) {
    EXPECT_NEAR(bend.radius, 3, 0.01);
    EXPECT_NEAR(bend.turn, pi / 2, 1e-6);
    EXPECT_EQ(bend.plan_curvature, 0);
    EXPECT_NEAR(bend.overhang, 45 - 27, 0.01);
    EXPECT_NEAR(bend.longest_overhang, 45 - 27, 0.01);
    EXPECT_NEAR(bend.length, 90, 6);  // facets whose middle lies under the sheet
    EXPECT_NEAR(std::abs(bend.outward.x()), 1, 1e-9);
    for (const auto& point : bend.line) EXPECT_NEAR(std::abs(point.x()), 30, 0.01);
  }
  EXPECT_LT(bends[0].outward.dot(bends[1].outward), -0.99);
}

TEST(ToolBends, TurnIsThatOfTheWall) {
  for (const double angle : {40.0, 75.0, 100.0}) {
    const ToolSurface tool = block(angle * pi / 180);
    const auto bends = find_tool_bends(ToolView(tool), {square_blank(90), 35});
    ASSERT_EQ(bends.size(), 2U) << angle;
    EXPECT_NEAR(bends[0].turn, angle * pi / 180, 1e-3);
  }
}

TEST(ToolBends, SymmetryLeavesTheOtherHalfOut) {
  const ToolSurface tool = block();
  const auto bends = find_tool_bends(ToolView(tool), {square_blank(90), 35}, true, true);
  ASSERT_EQ(bends.size(), 1U);
  EXPECT_GT(bends[0].outward.x(), 0.99);
  EXPECT_NEAR(bends[0].length, 45, 4);
}

TEST(ToolBends, SheetThatDoesNotReachOverTheEdgeFindsNone) {
  const ToolSurface tool = block();
  EXPECT_TRUE(find_tool_bends(ToolView(tool), {square_blank(50), 35}).empty());
}

TEST(ToolBends, SmallFacetsShowTheirPlanToo) {
  const ToolSurface tool = cavity(1.5 * pi / 180);
  const auto bends = find_tool_bends(ToolView(tool), {holed_blank(150, 20), 0, rims_of(tool.mesh(), -1)});
  ASSERT_EQ(bends.size(), 1U);
  EXPECT_NEAR(bends[0].plan_curvature, -1.0 / 30, 0.01 / 30);
}

TEST(ToolBends, LipOfACavityUnderAHoledBlankIsAStretchFlange) {
  const ToolSurface tool = cavity();
  const auto bends = find_tool_bends(ToolView(tool), {holed_blank(150, 20), 0, rims_of(tool.mesh(), -1)});
  ASSERT_EQ(bends.size(), 1U);
  EXPECT_NEAR(bends[0].plan_curvature, -1.0 / 30, 0.01 / 30);
  EXPECT_NEAR(bends[0].overhang, 34 - 20, 0.05);
  EXPECT_NEAR(bends[0].turn, pi / 2, 1e-6);
  EXPECT_TRUE(bends[0].outward.isZero());
}

TEST(ToolBends, SheetThatSpansACavityHasNoFlange) {
  const ToolSurface tool = cavity();
  const auto bends = find_tool_bends(ToolView(tool), {square_blank(150), 0, rims_of(tool.mesh(), -1)});
  ASSERT_EQ(bends.size(), 1U);
  EXPECT_FALSE(bends[0].has_flange());
  EXPECT_TRUE(std::isnan(bends[0].longest_overhang));
}

TEST(ToolBends, HalfCylinderTurnsOnBothSides) {
  ToolSpec spec;
  spec.shape = CylinderBlock{15, 100, 45};
  const ToolSurface tool = make_tool(spec);
  const auto bends = find_tool_bends(ToolView(tool), {square_blank(90), 45});
  ASSERT_EQ(bends.size(), 2U);
  for (const ToolBend& bend : bends) {
    EXPECT_NEAR(bend.turn, pi / 2, 0.06);  // a facet more or less at the crown
    EXPECT_NEAR(bend.radius, 15, 0.1);
    EXPECT_NEAR(bend.overhang, 45, 0.1);
  }
}

TEST(SheetReach, GoesOnToTheOutlineOrToAHole) {
  const SheetReach reach(holed_blank(100, 10), 0);
  EXPECT_NEAR(reach.to_cut_edge({20, 0}, {1, 0}), 30, 1e-9);
  EXPECT_NEAR(reach.to_cut_edge({20, 0}, {-1, 0}), 10, 0.02);
  EXPECT_NEAR(reach.to_cut_edge({20, 0}, Eigen::Vector2d(1, 1).normalized()), 30 * std::sqrt(2.0), 1e-9);
  EXPECT_EQ(reach.to_cut_edge({5, 0}, {1, 0}), 0);
}

}  // namespace
}  // namespace halftool::mesh
