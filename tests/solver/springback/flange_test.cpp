#include "solver/springback/flange.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/solver/springback/bent_strip.hpp"

namespace halftool::solver {
namespace {

using std::numbers::pi;

TEST(Flange, FindsTheFoldAndItsAngle) {
  const mesh::Blank blank = test::flat_strip(100, 50, 4, 1);
  const mesh::Points formed = test::bend(blank.mesh.nodes, 20, 4, pi / 2);
  const Regions regions = find_flanges(blank, formed);
  ASSERT_EQ(regions.flanges.size(), 1U);
  EXPECT_EQ(regions.flanges[0].name, "flange at +x");
  EXPECT_NEAR(fold_angle(blank, formed, regions.web, regions.flanges[0].triangles), pi / 2, 1e-6);
  const mesh::Points opened = test::bend(blank.mesh.nodes, 20, 4, pi / 2 - 0.05);
  EXPECT_NEAR(fold_angle(blank, opened, regions.web, regions.flanges[0].triangles), pi / 2 - 0.05, 1e-6);
}

TEST(Flange, FlatSheetHasNone) {
  const mesh::Blank blank = test::flat_strip(40, 50, 4, 1);
  EXPECT_TRUE(find_flanges(blank, blank.mesh.nodes).flanges.empty());
}

TEST(Flange, WrappedStripTurnsByItsArc) {
  const mesh::Blank blank = test::flat_strip(200, 60, 4, 1);
  const mesh::Points wrapped = test::bend(blank.mesh.nodes, 10, 20, 1.2);
  EXPECT_NEAR(total_turn(blank, wrapped), 1.2, 1e-6);
}

}  // namespace
}  // namespace halftool::solver
