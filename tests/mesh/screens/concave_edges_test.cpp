#include "mesh/screens/concave_edges.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/cuboids.hpp"
#include "tests/support/screened_sheet.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

using testing::reach_over;

/// A hollow quarter of a cylinder that lies along y, open at its ends.
ToolSurface groove(double radius) {
  return testing::tool_over_square(16, 4, 0.2, [&](double u, double v) {
    const double angle = (u - 0.5) * std::numbers::pi / 2;
    const Eigen::Vector3d normal(-std::sin(angle), 0, std::cos(angle));
    return testing::SurfacePoint{Eigen::Vector3d(0, 40 * (v - 0.5), 0) - radius * normal, normal};
  });
}

/// A hollow part of a sphere.
ToolSurface bowl(double radius) {
  return testing::tool_over_square(12, 12, 0.2, [&](double u, double v) {
    const Eigen::Vector3d way = Eigen::Vector3d(u - 0.5, v - 0.5, -1).normalized();
    return testing::SurfacePoint{radius * way, -way};
  });
}

TEST(ConcaveEdges, GrooveIsHollowOneWay) {
  const ToolSurface tool = groove(6);
  const auto edges = find_concave_edges(ToolView(tool), reach_over(60, 0), {});
  ASSERT_EQ(edges.radii.size(), 1U);
  EXPECT_NEAR(edges.radii[0].radius, 6, 0.01 * 6);
  EXPECT_FALSE(edges.radii[0].is_double());
  EXPECT_NEAR(fill_curvature(edges.radii[0].radius, edges.radii[0].across), 1.0 / 6, 0.01 / 6);
  EXPECT_EQ(edges.sharp.length, 0);
}

TEST(ConcaveEdges, BowlIsHollowBothWays) {
  const ToolSurface tool = bowl(20);
  const auto edges = find_concave_edges(ToolView(tool), reach_over(60, 0), {});
  ASSERT_EQ(edges.radii.size(), 1U);
  EXPECT_NEAR(edges.radii[0].radius, 20, 0.02 * 20);
  EXPECT_NEAR(edges.radii[0].across, 20, 0.02 * 20);
  EXPECT_TRUE(edges.radii[0].is_double());
  EXPECT_NEAR(fill_curvature(20, 20), std::sqrt(3) / 20, 1e-12);
}

TEST(ConcaveEdges, WallsMeetTheTrayFloorSharplyWhereTheSheetGetsThere) {
  ToolSpec spec;
  spec.shape = RoundCavity{50, 6, 30, 90};
  const ToolSurface cavity = make_tool(spec);
  const SheetReach into(testing::square_blank(120), 0, rims_of(cavity.mesh(), -1));
  const auto edges = find_concave_edges(ToolView(cavity), into, {});
  EXPECT_NEAR(edges.sharp.length, 100 * std::numbers::pi, 0.003 * 100 * std::numbers::pi);
  EXPECT_NEAR(edges.sharp.turn, std::numbers::pi / 2, 1e-6);
  EXPECT_NEAR(edges.sharp.at.head<2>().norm(), 50, 0.1);

  spec.shape = StraightBlock{60, 100, 35, 3};
  const ToolSurface block = make_tool(spec);
  EXPECT_EQ(find_concave_edges(ToolView(block), reach_over(100, 35), {}).sharp.length,
            0);  // 35 mm down, 20 mm long
  EXPECT_GT(find_concave_edges(ToolView(block), reach_over(160, 35), {}).sharp.length, 70);
}

TEST(ConcaveEdges, OfAHoleOnlyTheBottomIsLeftAndNothingWhereTheSheetBridgesIt) {
  ToolSpec spec;
  spec.shape = RoundCavity{3, 0.5, 10, 12};
  const ToolSurface tool = make_tool(spec);
  const ToolView view(tool);
  const SheetReach into(testing::square_blank(26), 0, rims_of(tool.mesh(), -1));
  const auto open = find_concave_edges(view, into, {});
  EXPECT_TRUE(open.radii.empty());
  EXPECT_NEAR(open.sharp.length, 6 * std::numbers::pi, 0.1);
  EXPECT_EQ(find_concave_edges(view, into, find_openings(view, 8, 0.1)).sharp.length, 0);
}

TEST(SheetReach, GoesAnywhereBetweenTheRimsOfACavityButNotDownItsOutside) {
  ToolSpec spec;
  spec.shape = RoundCavity{50, 6, 30, 90};
  const ToolSurface tool = make_tool(spec);
  const SheetReach into(testing::square_blank(200), 0, rims_of(tool.mesh(), -1));
  EXPECT_TRUE(into.reaches({50, 0, -30}));
  EXPECT_FALSE(into.reaches({90, 0, -30}));
  EXPECT_TRUE(into.reaches({90, 0, -11}));  // 10 mm of sheet hang over
  EXPECT_FALSE(reach_over(200, 0).reaches({90, 0, -13}));
  EXPECT_TRUE(reach_over(200, 0).reaches({50, 0, -30}));
  EXPECT_FALSE(into.covers({101, 0, 0}));
}

}  // namespace
}  // namespace halftool::mesh
