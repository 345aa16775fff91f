#include "mesh/screens/walls.hpp"

#include <gtest/gtest.h>

#include "tests/support/cuboids.hpp"

namespace halftool::mesh {
namespace {

using halftool::testing::tool_of;

TEST(Walls, CuboidIsAsHighAsThick) {
  const ToolSurface tool = tool_of({{{-5, -40, 0}, {5, 40, 10}}});
  const auto found = find_walls(ToolView(tool));
  ASSERT_FALSE(found.walls.empty());
  EXPECT_NEAR(found.walls[0].slenderness(), 1, 0.01);  // the lowest place stands a little above the foot
  EXPECT_NEAR(found.walls[0].thickness, 10, 1e-9);
  EXPECT_TRUE(found.rings.empty());
}

TEST(Walls, OnAThickBaseCountsFromTheBase) {
  // A rib of 4 mm on a base that is 20 mm high and as wide as long: two blocks, the rib let into the base.
  const ToolSurface tool = tool_of({{{-50, -50, 0}, {50, 50, 20}}, {{-2, -50, 20}, {2, 50, 32}}});
  const auto found = find_walls(ToolView(tool));
  ASSERT_FALSE(found.walls.empty());
  EXPECT_NEAR(found.walls[0].thickness, 4, 1e-9);
  EXPECT_NEAR(found.walls[0].height, 12, 0.01 * 12);
}

TEST(Walls, RoundCavityIsARingAndNoWall) {
  ToolSpec spec;
  spec.shape = RoundCavity{5, 0.3, 6, 8};
  const ToolSurface tool = make_tool(spec);
  const auto found = find_walls(ToolView(tool));
  EXPECT_TRUE(found.walls.empty());
  ASSERT_EQ(found.rings.size(), 1U);
  EXPECT_NEAR(found.rings[0].ratio(), 1.6, 0.015 * 1.6);  // thinnest at the foot of the lip
  EXPECT_NEAR(found.rings[0].inner_radius, 5, 0.015 * 5);
}

TEST(Walls, SquarePocketIsNoRing) {
  const ToolSurface tool = tool_of({{{-30, -30, 0}, {-20, 30, 10}},
                                    {{20, -30, 0}, {30, 30, 10}},
                                    {{-20, -30, 0}, {20, -20, 10}},
                                    {{-20, 20, 0}, {20, 30, 10}}});
  EXPECT_TRUE(find_walls(ToolView(tool)).rings.empty());
}

}  // namespace
}  // namespace halftool::mesh
