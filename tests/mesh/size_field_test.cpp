#include "mesh/size_field.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

constexpr double quarter = std::numbers::pi / 2;

ToolSurface tool_of(const ToolShape& shape) {
  ToolSpec spec;
  spec.shape = shape;
  return make_tool(spec);
}

PlacedOutline sheet(const std::vector<Hole>& holes = {}) {
  BlankSpec spec;
  spec.outline = RectangleOutline{200, 120, 0};
  spec.holes = holes;
  return place_outline(spec);
}

BlankMeshSpec six_per_bend() {
  BlankMeshSpec spec;
  spec.elements_per_bend = 6;
  return spec;
}

TEST(SizeField, ConvexRadiusAsksForItsMidSurfaceOverTheDevelopedBend) {
  const ToolSurface tool = tool_of(StraightBlock{150, 130, 35, 3});
  const SizeField sizes(six_per_bend(), 1, sheet(), tool);
  const double fine = 3.5 * quarter / 6;
  const double band = 3.5 * quarter - 3 + 2;
  EXPECT_NEAR(sizes.at({73, 10}), fine, 1e-3);
  EXPECT_NEAR(sizes.at({75 + 0.99 * band, 10}), fine, 1e-3);
  EXPECT_NEAR(sizes.at({75 + band + 4, 10}), fine + 1, 1e-3);  // grows by 0.25 per length
  EXPECT_NEAR(sizes.at({72 - band - 4, 10}), fine + 1, 1e-3);
  EXPECT_EQ(sizes.at({0, 0}), 4);  // four thicknesses
}

TEST(SizeField, HollowRadiusAsksForItsSmallerMidSurfaceNotBelowHalfAThickness) {
  const auto hollow = [](double u, double v) {
    const double angle = quarter * (u - 0.5);
    const Eigen::Vector3d n(std::sin(angle), 0, std::cos(angle));
    return testing::SurfacePoint{-4 * n + Eigen::Vector3d(0, 40 * (0.5 - v), 0), n};
  };
  const ToolSurface tool = testing::tool_over_square(15, 10, 0, hollow);
  EXPECT_NEAR(SizeField(six_per_bend(), 1, sheet(), tool).at({0, 0}), 3.5 * quarter / 6, 0.01);
  EXPECT_NEAR(SizeField(six_per_bend(), 5, sheet(), tool).at({0, 0}), 5.0 / 4, 1e-9);
}

TEST(SizeField, DeepRadiusReachesFartherOverTheBlank) {
  // Fillet of 3 mm whose top lies 8 mm under the tool's highest point: its band is half of that wider.
  const auto fillet = [](double u, double v) {
    const double angle = quarter * u;
    const Eigen::Vector3d n(std::sin(angle), 0, std::cos(angle));
    return testing::SurfacePoint{3 * n + Eigen::Vector3d(0, 60 * v - 30, 0), n};
  };
  const ToolSurface alone = testing::tool_over_square(15, 2, 0, fillet);
  SurfaceMesh mesh = alone.mesh();
  Points normals = alone.corner_normals();
  const Eigen::Index n = mesh.nodes.rows(), m = mesh.triangles.rows();
  mesh.nodes.conservativeResize(n + 3, 3);
  mesh.nodes.bottomRows<3>() << -80, 0, 11, -70, 0, 11, -70, 10, 11;
  mesh.triangles.conservativeResize(m + 1, 3);
  mesh.triangles.bottomRows<1>() << static_cast<int>(n), static_cast<int>(n) + 1, static_cast<int>(n) + 2;
  normals.conservativeResize(3 * (m + 1), 3);
  normals.bottomRows<3>().rowwise() = Eigen::RowVector3d::UnitZ();
  const ToolSurface deep(mesh, normals);
  const double x = 3 + (3.5 * quarter - 3 + 2) + 4;
  EXPECT_NEAR(SizeField(six_per_bend(), 1, sheet(), alone).at({x, 0}), 3.5 * quarter / 6 + 1, 0.01);
  EXPECT_NEAR(SizeField(six_per_bend(), 1, sheet(), deep).at({x, 0}), 3.5 * quarter / 6, 0.01);
}

TEST(SizeField, HolesAskForFifteenDegreesAnEdge) {
  const ToolSurface tool = tool_of(StraightBlock{150, 130, 35, 3});
  const SizeField sizes(six_per_bend(), 1, sheet({{{0, 20}, 6}}), tool);
  EXPECT_NEAR(sizes.at({6, 20}), 6 * std::numbers::pi / 12, 1e-9);
  EXPECT_NEAR(sizes.at({10, 20}), 6 * std::numbers::pi / 12 + 1, 1e-9);
}

TEST(SizeField, GivesOnlyReasonsThatCount) {
  const ToolSurface tool = tool_of(StraightBlock{150, 130, 35, 3});
  const SizeField sizes(six_per_bend(), 1, sheet(), tool);
  SurfaceMesh far;
  far.nodes.resize(1, 3);
  far.nodes << 0, 0, 0;
  EXPECT_THAT(sizes.reasons(far), ::testing::ElementsAre(::testing::HasSubstr("4 mm at most elsewhere")));
  far.nodes << 74, 0, 0;
  EXPECT_THAT(sizes.reasons(far), ::testing::ElementsAre(::testing::HasSubstr("outside tool radius of 3 mm"),
                                                         ::testing::HasSubstr("elsewhere")));
}

TEST(SizeField, UserSizesWin) {
  const ToolSurface tool = tool_of(StraightBlock{150, 130, 35, 3});
  BlankMeshSpec spec = six_per_bend();
  spec.coarsest = 7;
  EXPECT_EQ(SizeField(spec, 1, sheet(), tool).at({0, 0}), 7);
  spec.uniform = 2.5;
  EXPECT_EQ(SizeField(spec, 1, sheet(), tool).at({74, 0}), 2.5);
}

}  // namespace
}  // namespace halftool::mesh
