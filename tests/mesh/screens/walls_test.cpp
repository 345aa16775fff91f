#include "mesh/screens/walls.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

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

// A body with an acute corner in plan is thin beside that corner, and no wall there.
TEST(Walls, AcuteCornerOfABodyIsNoWall) {
  SurfaceMesh prism;
  prism.nodes.resize(6, 3);
  prism.nodes << 0, 0, 0, 100, 0, 0, 100, 90, 0, 0, 0, 10, 100, 0, 10, 100, 90, 10;
  prism.triangles.resize(8, 3);
  prism.triangles << 0, 2, 1, 3, 4, 5, 0, 1, 4, 0, 4, 3, 1, 2, 5, 1, 5, 4, 2, 0, 3, 2, 3, 5;
  Points normals(24, 3);
  for (int t = 0; t < 8; ++t) {
    const Eigen::RowVector3d a = prism.nodes.row(prism.triangles(t, 0));
    const Eigen::RowVector3d b = prism.nodes.row(prism.triangles(t, 1)),
                             c = prism.nodes.row(prism.triangles(t, 2));
    for (int i = 0; i < 3; ++i) normals.row(3 * t + i) = (b - a).cross(c - a).normalized();
  }
  const ToolSurface tool(std::move(prism), std::move(normals));
  const auto found = find_walls(ToolView(tool));
  for (const Wall& wall : found.walls) EXPECT_LT(wall.slenderness(), 0.2) << wall.at.transpose();
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

// Facets six times as long as wide had several times as many places across as along.
TEST(Walls, PlacesAreHalfASpacingApartOnNarrowFacetsToo) {
  ToolSpec spec;
  spec.shape = RoundCavity{40, 6, 25, 90};
  const ToolSurface tool = make_tool(spec);
  const ToolView view(tool);
  double area = 0;
  for (int f = 0; f < view.n_facets(); ++f)
    if (std::abs(view.smooth_normal(f).z()) < 0.5) area += view.area(f);
  const double one = std::pow(0.5 * view.spacing(), 2);
  const auto n = static_cast<double>(view.wall_points().size());
  EXPECT_GT(n, 0.25 * area / one);  // a cube may hold more than its side squared of a leaning wall
  EXPECT_LT(n, 1.5 * area / one);   // corners add some
}

}  // namespace
}  // namespace halftool::mesh
