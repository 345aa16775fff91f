#include "mesh/trim.hpp"

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "mesh/chain_curves.hpp"
#include "mesh/trim_side.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::mesh {
namespace {

using Eigen::RowVector3d;
using Eigen::Vector2d;
using ::testing::HasSubstr;

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;

DrawnOutline circle_line(const Vector2d& centre, double radius) {
  return chain_curves({ArcCurve{centre, radius, 0, 2 * pi}});
}

DrawnOutline box_line(double x0, double x1, double y0, double y1) {
  return chain_curves({LineCurve{{x0, y0}, {x1, y0}}, LineCurve{{x1, y0}, {x1, y1}},
                       LineCurve{{x1, y1}, {x0, y1}}, LineCurve{{x0, y1}, {x0, y0}}});
}

/// 60 by 40, irregular.
Blank sheet(unsigned seed = 1) {
  return test::blank_of(test::rectangle(60, 40, 30, 20, {seed, 0.25}), 1);
}

double area_of(const SurfaceMesh& mesh) {
  double area = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const RowVector3d a = mesh.nodes.row(mesh.triangles(t, 0));
    const RowVector3d b = mesh.nodes.row(mesh.triangles(t, 1)), c = mesh.nodes.row(mesh.triangles(t, 2));
    area += 0.5 * (b - a).cross(c - a).z();
  }
  return area;
}

int count(const Blank& blank, EdgeKind kind) {
  return static_cast<int>(std::count(blank.edge_kind.begin(), blank.edge_kind.end(), kind));
}

std::string message_of(const Blank& blank, const TrimSpec& spec) {
  try {
    trim_blank(blank, blank.mesh.nodes, spec);
  } catch (const MeshError& error) {
    return error.what();
  }
  return "no error";
}

TEST(TrimSide, OfABox) {
  DrawnOutline ring = box_line(0, 60, 0, 40);
  ring.holes.push_back(box_line(10, 50, 10, 30).outer);
  for (const bool inside : {true, false}) {
    const TrimSpec spec{ring, inside};
    const TrimSide side(spec);
    const BoxSide within = inside ? BoxSide::kept : BoxSide::cut_off;
    const BoxSide outside = inside ? BoxSide::cut_off : BoxSide::kept;
    EXPECT_EQ(side.side_of({1, 1}, {9, 39}), within);
    EXPECT_EQ(side.side_of({0, 0}, {10, 40}), within);  // touches three sides of the line and one of the hole
    EXPECT_EQ(side.side_of({12, 12}, {48, 28}), outside);
    EXPECT_EQ(side.side_of({-5, -5}, {-1, 50}), outside);
    EXPECT_EQ(side.side_of({1, 1}, {11, 39}), BoxSide::across);
    EXPECT_EQ(side.side_of({-5, -5}, {65, 45}), BoxSide::across);  // holds the line
    EXPECT_EQ(side.side_of({-5, 20}, {65, 21}), BoxSide::across);  // crossed, no corner of the line within
  }
}

TEST(Trim, NewNodesLieOnTheLineAndTheAreaIsThatInside) {
  for (const unsigned seed : {1U, 2U, 3U, 4U, 5U}) {
    const Blank blank = sheet(seed);
    const TrimmedBlank cut = trim_blank(blank, blank.mesh.nodes, {circle_line({31, 19}, 14)});
    EXPECT_EQ(count(cut.blank, EdgeKind::outer), 0);
    for (int e = 0; e < cut.blank.edges.n_edges(); ++e) {
      if (cut.blank.edge_kind[e] != EdgeKind::trimmed) continue;
      for (const int node : cut.blank.edges.nodes.row(e))
        EXPECT_NEAR((cut.blank.mesh.nodes.row(node).head<2>() - Eigen::RowVector2d(31, 19)).norm(), 14,
                    2e-4);  // the chords that stand for the circle
    }
    // The border is a polygon on the circle, of edges up to two and a half cells: 0.5 % is their sagitta.
    EXPECT_NEAR(area_of(cut.blank.mesh), pi * 14 * 14, 0.005 * pi * 14 * 14);
    EXPECT_GT(smallest_angles(cut.blank.mesh).minCoeff(), 7 * degree);
    EXPECT_NEAR(cut.kept_share, area_of(cut.blank.mesh) / 2400, 1e-12);
  }
}

// Corners included, or else told.
TEST(Trim, BothSidesOfALineMakeTheWholeSheet) {
  int exact = 0;
  for (unsigned seed = 1; seed <= 8; ++seed) {
    const Blank blank = sheet(seed);
    TrimSpec spec{box_line(22.3, 44.1, -5, 17.7)};
    const TrimmedBlank inside = trim_blank(blank, blank.mesh.nodes, spec);
    spec.keep_inside = false;
    const TrimmedBlank outside = trim_blank(blank, blank.mesh.nodes, spec);
    EXPECT_NEAR(area_of(inside.blank.mesh), 21.8 * 17.7, inside.details_lost > 0 ? 2.5 : 1e-6);
    EXPECT_NEAR(area_of(outside.blank.mesh), 2400 - 21.8 * 17.7, outside.details_lost > 0 ? 2.5 : 1e-6);
    exact += inside.details_lost == 0 && outside.details_lost == 0;
    EXPECT_GT(count(inside.blank, EdgeKind::outer), 0);  // along y = 0
    EXPECT_GT(count(inside.blank, EdgeKind::trimmed), 0);
  }
  EXPECT_GE(exact, 5);
}

TEST(Trim, WhatTheLineDoesNotMeetIsAsItWas) {
  const Blank blank = sheet();
  const TrimmedBlank cut = trim_blank(blank, blank.mesh.nodes, {box_line(-1, 30.4, -1, 41)});
  int whole = 0;
  for (int t = 0; t < cut.blank.mesh.n_triangles(); ++t) {
    const auto now = cut.blank.mesh.triangles.row(t);
    const auto before = blank.mesh.triangles.row(cut.parent[t]);
    bool same = true;
    for (int i = 0; i < 3; ++i)
      same = same && cut.blank.mesh.nodes.row(now(i)) == blank.mesh.nodes.row(before(i));
    whole += same ? 1 : 0;
  }
  EXPECT_GT(whole, cut.blank.mesh.n_triangles() - 130);  // two rows of 40 along the cut, moved or split
  for (int e = 0; e < cut.blank.edges.n_edges(); ++e) {
    const EdgeOrigin& origin = cut.edge_origin[e];
    if (!origin.whole) continue;
    RowVector3d middle = RowVector3d::Zero();
    for (const int end : {0, 1})
      middle += cut.blank.mesh.nodes.row(cut.blank.edges.nodes(e, end)) -
                blank.mesh.nodes.row(blank.edges.nodes(origin.edge, end));
    EXPECT_LT(middle.norm(), 1e-12);
  }
}

// A wall that stands along z is cut at a height by a line that is projected along x.
TEST(Trim, AWallIsCutAtAHeight) {
  const Blank blank = sheet();
  Points formed = blank.mesh.nodes;
  for (Eigen::Index i = 0; i < formed.rows(); ++i)
    if (blank.mesh.nodes(i, 0) > 30)
      formed.row(i) = RowVector3d(30, blank.mesh.nodes(i, 1), 30 - blank.mesh.nodes(i, 0));
  TrimSpec spec{box_line(-1, 41, -17.3, 5)};
  spec.along = 0;
  const TrimmedBlank cut = trim_blank(blank, formed, spec);
  EXPECT_NEAR(area_of(cut.blank.mesh), 40 * 47.3, 1e-6);
  spec.along = 2;  // seen from above the wall is a line
  EXPECT_THAT(message_of(blank, {box_line(-10, 70, -10, 50)}),
              HasSubstr("does not meet the sheet, which seen along its axis reaches from ("));
}

TEST(Trim, SymmetryPlanesStayPlanes) {
  Blank blank = sheet();
  test::mark_border(blank, 0, 0, EdgeKind::symmetry_x);
  test::mark_border(blank, 1, 0, EdgeKind::symmetry_y);
  const TrimmedBlank cut = trim_blank(blank, blank.mesh.nodes, {circle_line({0, 0}, 25.2)});
  double on_x = 0, on_y = 0;
  for (int e = 0; e < cut.blank.edges.n_edges(); ++e) {
    const auto ends = cut.blank.edges.nodes.row(e);
    const double length = (cut.blank.mesh.nodes.row(ends(0)) - cut.blank.mesh.nodes.row(ends(1))).norm();
    if (cut.blank.edge_kind[e] == EdgeKind::symmetry_x) {
      EXPECT_EQ(cut.blank.mesh.nodes(ends(0), 0), 0);
      on_x += length;
    }
    if (cut.blank.edge_kind[e] == EdgeKind::symmetry_y) on_y += length;
  }
  EXPECT_NEAR(on_x, 25.2, 2e-4);
  EXPECT_NEAR(on_y, 25.2, 2e-4);
  EXPECT_EQ(count(cut.blank, EdgeKind::outer), 0);
}

TEST(Trim, RimsOfPinsThatAreCutOffNoLongerHold) {
  Blank blank = sheet();
  PinnedRim kept, lost;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (!blank.edges.is_boundary(e)) continue;
    const double x = blank.mesh.nodes(blank.edges.nodes(e, 0), 0);
    if (x < 10) kept.edges.push_back(e);
    if (x > 50) lost.edges.push_back(e);
  }
  blank.pins = {kept, lost};
  const TrimmedBlank cut = trim_blank(blank, blank.mesh.nodes, {box_line(-1, 40.3, -1, 41)});
  ASSERT_EQ(cut.blank.pins.size(), 1U);
  EXPECT_EQ(cut.blank.pins[0].edges.size(), kept.edges.size());
}

TEST(Trim, RefusesLinesThatCannotBeCut) {
  const Blank blank = sheet();
  EXPECT_THAT(message_of(blank, {circle_line({200, 0}, 10)}), HasSubstr("leaves nothing of the sheet"));
  TrimSpec around{circle_line({30, 20}, 90)};
  EXPECT_THAT(message_of(blank, around), HasSubstr("does not meet the sheet"));
  around.keep_inside = false;
  EXPECT_THAT(message_of(blank, around), HasSubstr("leaves nothing"));
  TrimSpec across{box_line(20, 30, -5, 45)};
  across.keep_inside = false;
  EXPECT_THAT(message_of(blank, across), HasSubstr("leaves 2 pieces; beside the largest there is one at ("));
  EXPECT_THAT(message_of(blank, across), HasSubstr("one connected piece"));
}

TEST(Trim, TellsOfDetailThatIsSmallerThanTheMesh) {
  const Blank blank = sheet();
  // A notch as wide as a fifth of an edge.
  const auto notched = chain_curves({LineCurve{{-1, -1}, {40, -1}}, LineCurve{{40, -1}, {40, 20}},
                                     LineCurve{{40, 20}, {5, 20.2}}, LineCurve{{5, 20.2}, {40, 20.4}},
                                     LineCurve{{40, 20.4}, {40, 41}}, LineCurve{{40, 41}, {-1, 41}},
                                     LineCurve{{-1, 41}, {-1, -1}}});
  EXPECT_GT(trim_blank(blank, blank.mesh.nodes, {notched}).details_lost, 0);
  EXPECT_EQ(trim_blank(blank, blank.mesh.nodes, {box_line(-1, 40.3, -1, 41)}).details_lost, 0);
}

}  // namespace
}  // namespace halftool::mesh
