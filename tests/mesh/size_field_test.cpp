#include "mesh/size_field.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

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

TEST(SizeField, HollowRadiusAsksForLessAndADeepOneReachesFarther) {
  const ToolSurface cavity = tool_of(RoundCavity{30, 6, 20, 90});
  const SizeField sizes(six_per_bend(), 1, sheet(), cavity);
  // The lip is convex; of the hollow wall (radius 30) the sheet asks nothing finer than four thicknesses.
  EXPECT_NEAR(sizes.at({33, 0}), 6.5 * quarter / 6, 0.01);
  EXPECT_GT(sizes.at({0, 0}), sizes.at({25, 0}));
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
