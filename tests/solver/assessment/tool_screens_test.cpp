// What each screen makes of measures that are known, against its formula worked by hand.
#include "solver/assessment/tool_screens.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/screened_sheet.hpp"

namespace halftool::solver {
namespace {

using ::testing::HasSubstr;

constexpr double degree = std::numbers::pi / 180;
constexpr double infinite = std::numeric_limits<double>::infinity();

/// Constants of a soft aluminium and of a strong steel, invented near what handbooks give.
ScreenLoad soft_sheet(double pressure) {
  ScreenLoad load;
  load.sheet.hardening = SwiftHardening{205, 0.00139, 0.20};
  load.thickness = 1.6;
  load.pressure = pressure;
  return load;
}
ScreenLoad strong_sheet(double pressure) {
  ScreenLoad load;
  load.sheet.hardening = SwiftHardening{1217, 0.00107, 0.13};
  load.thickness = 1.2;
  load.pressure = pressure;
  return load;
}

mesh::ConcaveEdges hollow(double radius, double across = infinite) {
  mesh::ConcaveEdges edges;
  edges.radii = {{radius, across, 100, {1, 2, 3}}};
  return edges;
}

TEST(FillScreen, GrooveOfSixMillimetresDoesNotFillInStrongSheet) {
  const Screen screen = fill_screen(hollow(6), strong_sheet(100));
  ASSERT_TRUE(screen.tripped());
  const double stress = 1217 * std::pow(0.1 + 0.00107, 0.13);
  EXPECT_NEAR(screen.findings[0].found.value, 2 / std::sqrt(3) * stress * 1.2 / 6, 1e-9);
  EXPECT_NEAR(screen.findings[0].found.value, 208, 2);  // worked by hand
  EXPECT_EQ(screen.findings[0].at, Eigen::Vector3d(1, 2, 3));
  EXPECT_FALSE(fill_screen(hollow(6), strong_sheet(215)).tripped());
  EXPECT_FALSE(fill_screen(hollow(13), strong_sheet(100)).tripped());
}

TEST(FillScreen, SphericalCornerAsksForTwoSigmaT) {
  const Screen screen = fill_screen(hollow(10, 10), strong_sheet(100));
  ASSERT_TRUE(screen.tripped());
  const double stress = 1217 * std::pow(0.1 + 0.00107, 0.13);
  EXPECT_NEAR(screen.findings[0].found.value, 2 * stress * 1.2 / 10, 1e-9);
}

TEST(FillScreen, EdgeWithoutRadiusAlwaysTrips) {
  mesh::ConcaveEdges edges;
  EXPECT_FALSE(fill_screen(edges, soft_sheet(1000)).tripped());
  edges.sharp = {40, 90 * degree, {0, 0, 5}};
  EXPECT_TRUE(fill_screen(edges, soft_sheet(1000)).tripped());
}

mesh::Opening opening(double width, double length, double depth) {
  return {width, length, depth, {0, 0, 10}, Eigen::Vector3d::UnitX()};
}

TEST(PrintThroughScreen, HoleAndSlotTripFromTheirOwnSpan) {
  const ScreenLoad load = soft_sheet(100);
  const auto reach = testing::reach_over(100, 10);
  const double yield = 205 * std::pow(0.00139, 0.20);
  const double diameter = 1.6 * std::sqrt(11.26 * yield / 100);
  const double width = 2 * 1.6 * std::sqrt(2 / std::sqrt(3) * yield / 100);
  EXPECT_NEAR(diameter, 2.5 * 1.6, 0.05);  // 2.5 thicknesses, worked by hand
  const auto trips = [&](const mesh::Opening& one) {
    return print_through_screen({one}, reach, load).tripped();
  };
  EXPECT_TRUE(trips(opening(1.01 * diameter, 1.01 * diameter, 10)));
  EXPECT_FALSE(trips(opening(0.99 * diameter, 0.99 * diameter, 10)));
  EXPECT_TRUE(trips(opening(1.01 * width, 60, 10)));
  EXPECT_FALSE(trips(opening(0.99 * width, 60, 10)));
  EXPECT_FALSE(trips(opening(10, 60, 1.5)));  // less deep than the sheet is thick
  EXPECT_FALSE(trips(opening(33, 60, 10)));   // wider than 20 thicknesses: part of the shape
  mesh::Opening beside = opening(10, 60, 10);
  beside.at.x() = 60;  // beyond the blank
  EXPECT_FALSE(trips(beside));
}

mesh::WallsAndRings wall(double thickness, double height) {
  mesh::WallsAndRings walls;
  walls.walls = {{thickness, height, {1, 0, 0}}};
  return walls;
}

TEST(WallScreen, WallAsHighAsThickBearsThreeTimesThePressure) {
  const Screen tripped = wall_screen(wall(10, 10), 100, 299, false);
  ASSERT_TRUE(tripped.tripped());
  EXPECT_NEAR(tripped.findings[0].found.value, 300, 1e-9);
  EXPECT_THAT(tripped.findings[0].caution,
              HasSubstr("no strength clearance; a competent person must approve"));
  EXPECT_FALSE(wall_screen(wall(10, 10), 100, 301, false).tripped());
}

TEST(WallScreen, RingBearsTheHoopStressOfAThickCylinder) {
  mesh::WallsAndRings ring;
  ring.rings = {{50, 75, {50, 0, 0}}};
  const Screen screen = wall_screen(ring, 100, 200, false);
  ASSERT_TRUE(screen.tripped());
  EXPECT_NEAR(screen.findings[0].found.value, 260, 1e-9);  // k = 1.5: 2.6 p
}

TEST(WallScreen, WithoutAllowedStressTheHighestIsToldAndNotJudged) {
  mesh::WallsAndRings walls = wall(10, 10);
  walls.walls.push_back({10, 5, {9, 0, 0}});
  const Screen screen = wall_screen(walls, 100, std::nullopt, false);
  EXPECT_FALSE(screen.tripped());
  EXPECT_THAT(screen.not_run, HasSubstr("tool.allowed_stress"));
  ASSERT_EQ(screen.findings.size(), 1U);
  EXPECT_NEAR(screen.findings[0].found.value, 300, 1e-9);
}

TEST(WallScreen, OpenSurfaceHasNoThickness) {
  const Screen screen = wall_screen({}, 100, 200, true);
  EXPECT_FALSE(screen.tripped());
  EXPECT_THAT(screen.not_run, HasSubstr("open"));
}

TEST(UndercutScreen, IsWorseAboveThreeDegrees) {
  const mesh::Undercut slight{1.3 * degree, 100, {0, 0, 0}, true};
  const mesh::Undercut strong{3.5 * degree, 100, {0, 0, 0}, true};
  const Screen both = undercut_screen({strong, slight}, {});
  ASSERT_EQ(both.findings.size(), 2U);
  EXPECT_THAT(both.findings[0].what, HasSubstr("above 3 deg"));
  EXPECT_THAT(both.findings[0].caution, HasSubstr("grips the tool"));
  EXPECT_EQ(both.findings[1].what, "undercut");
  EXPECT_NEAR(both.findings[1].found.value, 1.3, 1e-9);
  EXPECT_FALSE(undercut_screen({}, {}).tripped());
  EXPECT_TRUE(undercut_screen({}, {12, {0, 0, 0}}).tripped());
}

TEST(UndercutScreen, ListsTheFirstAndCountsTheRest) {
  const Screen many = undercut_screen(std::vector<mesh::Undercut>(8, {0.02, 1, {0, 0, 0}, true}), {});
  EXPECT_EQ(many.findings.size(), 3U);
  EXPECT_EQ(many.more, 5);
}

TEST(SharpEdgeScreen, TellsCoveredBareAndBlankCornersApart) {
  mesh::ConvexEdges edges;
  EXPECT_FALSE(sharp_edge_screen(edges, {}, 10).tripped());
  edges.bare = {200, 0, 90 * degree, {1, 2, 3}};
  EXPECT_EQ(sharp_edge_screen(edges, {}, 10).findings.size(), 1U);
  edges.covered = edges.bare;
  const Screen all = sharp_edge_screen(edges, {{5, 6}}, 10);
  ASSERT_EQ(all.findings.size(), 3U);
  EXPECT_EQ(all.findings[2].at, Eigen::Vector3d(5, 6, 10));
}

TEST(PadStretchScreen, GapAsWideAsDeepStretchesThreefold) {
  const auto reach = testing::reach_over(20, 60);
  const auto screen_of = [&](double gap, double length, double depth) {
    mesh::Opening one = opening(gap, length, depth);
    one.at.x() = 50;  // beside the blank
    return pad_stretch_screen({one}, reach, soft_sheet(100));
  };
  const Screen screen = screen_of(50, 200, 50);
  ASSERT_TRUE(screen.tripped());
  EXPECT_NEAR(screen.findings[0].found.value, 3, 1e-12);
  EXPECT_FALSE(screen_of(100, 300, 50).tripped());   // 2.0
  EXPECT_FALSE(screen_of(50, 50, 50).tripped());     // a hole
  EXPECT_FALSE(screen_of(0.05, 50, 0.3).tripped());  // the seam beside an insert
}

TEST(PadStretchScreen, GapThatTheSheetBridgesIsLeftOut) {
  const auto reach = testing::reach_over(100, 10);
  EXPECT_FALSE(pad_stretch_screen({opening(2, 60, 10)}, reach, soft_sheet(100)).tripped());
  EXPECT_TRUE(pad_stretch_screen({opening(6, 60, 10)}, reach, soft_sheet(100)).tripped());
}

}  // namespace
}  // namespace halftool::solver
