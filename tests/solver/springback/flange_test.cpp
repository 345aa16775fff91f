#include "solver/springback/flange.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/solver/springback/bent_strip.hpp"
#include "tests/support/meshes.hpp"

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

TEST(Flange, LegOfAWrappedStripStandsAgainstThePressAxis) {
  const mesh::Blank blank = test::flat_strip(100, 50, 4, 1);
  const mesh::Points formed = test::bend(blank.mesh.nodes, 0, 8, 1.25);  // the arc ends at a node
  const Regions regions = find_flanges(blank, formed);
  EXPECT_TRUE(regions.web.empty());
  ASSERT_EQ(regions.flanges.size(), 1U);
  EXPECT_NEAR(fold_angle(blank, formed, regions.web, regions.flanges[0].triangles), 1.25, 1e-6);
}

TEST(Flange, FlatSheetHasNone) {
  const mesh::Blank blank = test::flat_strip(40, 50, 4, 1);
  EXPECT_TRUE(find_flanges(blank, blank.mesh.nodes).flanges.empty());
}

// A cap stands at every angle from none to that of its rim.
TEST(Flange, WallOfADomeIsNone) {
  mesh::Blank blank = test::blank_of(test::disc(50, 24), 1);
  const mesh::Points dome = test::mapped(blank.mesh, [](const Eigen::Vector3d& x) {
                              const double r = x.head<2>().norm();
                              const double rise =
                                  r < 35 ? std::sqrt(50 * 50 - r * r) - std::sqrt(50 * 50 - 35 * 35) : 0;
                              return Eigen::Vector3d(x.x(), x.y(), rise);
                            }).nodes;
  EXPECT_TRUE(find_flanges(blank, dome).flanges.empty());
}

/// A strip, 60 long, wrapped by 1.2 rad about the y axis; its normals lean out of the plane of the wrap by up
/// to an angle at its sides.
SheetState wrapped_strip(double lean) {
  const mesh::Blank blank = test::flat_strip(20, 60, 4, 1);
  SheetState state;
  state.place.positions = test::bend(blank.mesh.nodes, 0, 50, 1.2);
  state.place.turn = Eigen::VectorXd::Zero(blank.edges.n_edges());
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const auto along = [&](int end) { return blank.mesh.nodes(blank.edges.nodes(e, end), 0); };
    const double turned = 0.5 * (along(0) + along(1)) / 50;
    const Eigen::Vector3d edge = state.place.positions.row(blank.edges.nodes(e, 1)) -
                                 state.place.positions.row(blank.edges.nodes(e, 0));
    const Eigen::Vector3d normal(std::sin(turned), e % 2 == 0 ? lean : -lean, std::cos(turned));
    state.frames.push_back({edge.normalized(), normal.normalized()});
  }
  return state;
}

TEST(Flange, WrappedStripTurnsByItsArc) {
  const auto turn = wrapped_turn(wrapped_strip(0));
  ASSERT_TRUE(turn.has_value());
  EXPECT_NEAR(*turn, 1.2, 1e-9);
}

TEST(Flange, WhatBendsAboutTwoAxesHasNoTurnOfItsOwn) {
  EXPECT_TRUE(wrapped_turn(wrapped_strip(0.03)).has_value());
  EXPECT_FALSE(wrapped_turn(wrapped_strip(0.2)).has_value());
}

}  // namespace
}  // namespace halftool::solver
