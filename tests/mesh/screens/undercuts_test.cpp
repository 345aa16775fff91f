#include "mesh/screens/undercuts.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/cuboids.hpp"
#include "tests/support/curved_block.hpp"
#include "tests/support/screened_sheet.hpp"
#include "tests/support/stl_files.hpp"

namespace halftool::mesh {
namespace {

using testing::reach_over;

constexpr double degree = std::numbers::pi / 180;

ToolSurface over_bent(double wall_angle) {
  ToolSpec spec;
  spec.shape = StraightBlock{60, 40, 35, 3, wall_angle * degree};
  return make_tool(spec);
}

TEST(Undercuts, OverBentBlockLeansByItsAllowanceOnBothWalls) {
  const ToolSurface tool = over_bent(91.3);
  const auto undercuts = find_undercuts(ToolView(tool), reach_over(100, 35));
  ASSERT_EQ(undercuts.size(), 2U);
  // The wall begins where the radius has turned by 91.3 degrees and runs down to the floor.
  const double lean = 1.3 * degree;
  const double wall = (35 - 3 - 3 * std::sin(lean)) / std::cos(lean);
  for (const Undercut& undercut : undercuts) {
    EXPECT_NEAR(undercut.angle / degree, 1.3, 1e-3);
    EXPECT_NEAR(undercut.area, 40 * wall, 0.005 * 40 * wall);  // and what the radius turned past 90 degrees
    EXPECT_TRUE(undercut.reached);
  }
  EXPECT_NEAR(std::abs(undercuts[0].at.x()), 30, 1);
}

TEST(Undercuts, WallThatHangsBelowTheSheetIsNotReached) {
  const ToolSurface tool = over_bent(91.3);
  const auto undercuts = find_undercuts(ToolView(tool), reach_over(50, 35));
  ASSERT_EQ(undercuts.size(), 2U);
  EXPECT_FALSE(undercuts[0].reached);
}

TEST(Undercuts, UprightAndDraftedBlocksHaveNone) {
  for (const double angle : {90.0, 88.0}) {
    const ToolSurface tool = over_bent(angle);
    const ToolView view(tool);
    EXPECT_TRUE(find_undercuts(view, reach_over(100, 35)).empty());
    EXPECT_EQ(find_shadow(view).area, 0);
  }
}

TEST(Undercuts, HollowUprightWallOfIrregularFacetsHasNone) {
  const halftool::testing::PassingFile file("block.step");
  halftool::testing::write_step({}, file.path());
  ToolSpec spec;
  StepShape shape;
  shape.path = file.path();
  spec.shape = shape;
  const ToolSurface tool = make_tool(spec);
  EXPECT_TRUE(find_undercuts(ToolView(tool), reach_over(100, 30)).empty());
}

TEST(Undercuts, CanopyShadowsWhatLiesBelowIt) {
  const ToolSurface tool =
      halftool::testing::tool_of({{{-50, -50, 0}, {50, 50, 10}}, {{-20, -20, 30}, {20, 20, 40}}});
  const ToolView view(tool);
  const auto undercuts = find_undercuts(view, reach_over(100, 40));
  ASSERT_EQ(undercuts.size(), 1U);  // the underside of the lower block lies on the floor
  EXPECT_NEAR(undercuts[0].angle / degree, 90, 1e-6);
  EXPECT_NEAR(undercuts[0].area, 1600, 1e-6);
  EXPECT_NEAR(find_shadow(view).area, 1600, 0.05 * 1600);  // places are 3.5 mm apart
}

}  // namespace
}  // namespace halftool::mesh
