#include "mesh/chain_curves.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using ::testing::Contains;
using ::testing::HasSubstr;

constexpr double pi = std::numbers::pi;

std::vector<PlaneCurve> rectangle(double a, double b, const Vector2d& at = {0, 0}) {
  const std::vector<Vector2d> c{at, at + Vector2d(a, 0), at + Vector2d(a, b), at + Vector2d(0, b)};
  return {LineCurve{c[0], c[1]}, LineCurve{c[1], c[2]}, LineCurve{c[2], c[3]}, LineCurve{c[3], c[0]}};
}

/// Length a along x, round ends of radius r.
std::vector<PlaneCurve> slot(double a, double r, const Vector2d& at = {0, 0}) {
  const Vector2d half(a / 2, 0), up(0, r);
  return {LineCurve{at - half - up, at + half - up}, ArcCurve{at + half, r, -pi / 2, pi},
          LineCurve{at + half + up, at - half + up}, ArcCurve{at - half, r, pi / 2, pi}};
}

std::vector<PlaneCurve> operator+(std::vector<PlaneCurve> a, const std::vector<PlaneCurve>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

double area_of(const DrawnOutline& outline) {
  double area = area_of(outline.outer);
  for (const auto& hole : outline.holes) area -= std::abs(area_of(hole));
  return area;
}

std::string message_of(const std::vector<PlaneCurve>& curves) {
  try {
    chain_curves(curves);
  } catch (const MeshError& error) {
    return error.what();
  }
  return "no error";
}

void expect_closed(const Loop& loop) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    EXPECT_EQ(loop[i].end, loop[(i + 1) % loop.size()].start);
    if (loop[i].centre) {
      EXPECT_NEAR((loop[i].end - *loop[i].centre).norm() / loop[i].radius(), 1, 1e-12);
    }
  }
}

TEST(ChainCurves, CurvesInAnyOrderAndDirectionGiveTheAreaOfTheClosedForm) {
  std::vector<PlaneCurve> curves = slot(60, 20);
  curves.push_back(ArcCurve{{10, 3}, 5, 0, 2 * pi});
  curves.push_back(ellipse_arc({-20, 0}, {6, 2}, 0.4, 0, 2 * pi));
  const double ellipse = pi * 40 * 0.4;
  const double area = 60 * 40 + pi * 400 - pi * 25 - ellipse;
  std::mt19937 random(7);
  for (int trial = 0; trial < 20; ++trial) {
    std::shuffle(curves.begin(), curves.end(), random);
    for (auto& curve : curves) {
      if (random() % 2 == 0) continue;
      if (auto* line = std::get_if<LineCurve>(&curve)) std::swap(line->start, line->end);
      if (auto* arc = std::get_if<ArcCurve>(&curve))
        *arc = {arc->centre, arc->radius, arc->from + arc->sweep, -arc->sweep};
      if (auto* spline = std::get_if<SplineCurve>(&curve)) *spline = reversed(*spline);
    }
    const DrawnOutline outline = chain_curves(curves);
    ASSERT_EQ(outline.holes.size(), 2U);
    EXPECT_NEAR(area_of(outline), area, 1e-9 * area);
    expect_closed(outline.outer);
    for (const auto& hole : outline.holes) expect_closed(hole);
    EXPECT_TRUE(outline.doubts.empty());
  }
}

TEST(ChainCurves, SmallGapsAreClosedAndTold) {
  std::vector<PlaneCurve> curves = slot(60, 20);
  std::get<LineCurve>(curves[0]).end.x() -= 0.006;      // line to arc
  std::get<ArcCurve>(curves[3]).sweep -= 0.004 / 20.0;  // arc to line
  const DrawnOutline outline = chain_curves(curves);
  expect_closed(outline.outer);
  EXPECT_THAT(outline.doubts, Contains(HasSubstr("2 gaps closed, the largest 0.006 mm at (29.994, -20)")));
  EXPECT_NEAR(area_of(outline), 60 * 40 + pi * 400, 0.1);
}

TEST(ChainCurves, ArcsThatMeetWithAGapKeepTheirSweepAndMeet) {
  std::vector<PlaneCurve> curves{ArcCurve{{0, 0}, 20, 0, pi}, ArcCurve{{0.004, 0}, 20, pi, pi}};
  const DrawnOutline outline = chain_curves(curves);
  expect_closed(outline.outer);
  EXPECT_NEAR(area_of(outline), pi * 400, 0.2);
}

TEST(ChainCurves, DuplicatesAndEmptyCurvesAreDroppedAndCounted) {
  std::vector<PlaneCurve> curves = slot(60, 20) + slot(60, 20);
  curves.push_back(LineCurve{{30, -20}, {-30, -20}});  // the other way round
  curves.push_back(LineCurve{{30, -20}, {30.004, -20}});
  curves.push_back(ArcCurve{{0, 0}, 4, 0, 2 * pi});
  curves.push_back(ArcCurve{{0, 0}, 4, 1, -2 * pi});
  const DrawnOutline outline = chain_curves(curves);
  EXPECT_NEAR(area_of(outline), 60 * 40 + pi * (400 - 16), 1e-8);
  EXPECT_THAT(outline.facts, Contains("6 curves drawn twice and taken once"));
  EXPECT_THAT(outline.facts, Contains("1 curve shorter than 0.01 mm left out"));
}

TEST(ChainCurves, ShortPiecesAreADoubt) {
  std::vector<PlaneCurve> curves = rectangle(40, 30);
  curves[0] = LineCurve{{0, 0}, {39.96, 0}};
  curves.push_back(LineCurve{{39.96, 0}, {40, 0}});
  EXPECT_THAT(chain_curves(curves).doubts,
              Contains(HasSubstr("1 piece shorter than 0.05 mm, the first at (39.96, 0)")));
}

TEST(ChainCurves, RefusesGapsWithSizeAndPlace) {
  std::vector<PlaneCurve> curves = rectangle(12.4, 33);
  std::get<LineCurve>(curves[1]).end.y() = 32.96;
  EXPECT_THAT(message_of(curves), HasSubstr("the outline is open: gap 0.04 mm at (12.4, 32.96); close it"));
  curves.pop_back();
  EXPECT_THAT(message_of(curves), HasSubstr(", and 2 more open ends"));
  EXPECT_THAT(message_of({LineCurve{{0, 0}, {1, 0}}}), HasSubstr("gap 1 mm at (0, 0)"));
  EXPECT_THAT(message_of({}), HasSubstr("no curve of the drawing can be an outline"));
}

TEST(ChainCurves, RefusesBranches) {
  std::vector<PlaneCurve> curves = rectangle(40, 30);
  curves.push_back(LineCurve{{40, 30}, {60, 50}});
  EXPECT_THAT(message_of(curves), HasSubstr("more than two curves of the drawing end at (40, 30)"));
}

TEST(ChainCurves, RefusesCrossingsWithTheirPlace) {
  EXPECT_THAT(message_of({LineCurve{{0, 0}, {10, 10}}, LineCurve{{10, 10}, {10, 0}},
                          LineCurve{{10, 0}, {0, 10}}, LineCurve{{0, 10}, {0, 0}}}),
              HasSubstr("the outline crosses or touches itself at (5, 5)"));
  EXPECT_THAT(message_of(rectangle(40, 30) + rectangle(40, 30, {20, 10})),
              HasSubstr("two loops of the drawing cross or touch at"));
  EXPECT_THAT(message_of(rectangle(40, 30) + std::vector<PlaneCurve>{ArcCurve{{5, 15}, 5, 0, 2 * pi}}),
              HasSubstr("two loops of the drawing cross or touch at (0, 15)"));
  // A spur: out and back along the same line.
  std::vector<PlaneCurve> spur = rectangle(40, 30);
  spur[0] = LineCurve{{0, 0}, {50, 0}};
  spur.push_back(LineCurve{{50, 0}, {40, 0}});
  EXPECT_THAT(message_of(spur), HasSubstr("the outline runs back on itself at (50, 0)"));
}

TEST(ChainCurves, RefusesWrongNesting) {
  EXPECT_THAT(message_of(rectangle(40, 30) + rectangle(40, 30, {50, 0})),
              HasSubstr("two outer loops, around (20, 15) and around (70, 15)"));
  const std::vector<PlaneCurve> outside{ArcCurve{{60, 15}, 4, 0, 2 * pi}};
  EXPECT_THAT(message_of(rectangle(40, 30) + outside),
              HasSubstr("a hole around (60, 15) lies outside the outline"));
  EXPECT_THAT(message_of(rectangle(40, 30) + rectangle(20, 10, {5, 5}) + slot(4, 2, {15, 10})),
              HasSubstr("the loop around (15, 10) lies inside the hole around (15, 10)"));
}

TEST(ChainCurves, RefusesFaultyCurves) {
  const double none = std::nan("");
  EXPECT_THAT(message_of({LineCurve{{0, 0}, {none, 0}}}), HasSubstr("is not finite"));
  EXPECT_THAT(message_of({LineCurve{{0, 0}, {1e9, 0}}}), HasSubstr("more than a kilometre away"));
  EXPECT_THAT(message_of({ArcCurve{{0, 0}, -1, 0, 1}}), HasSubstr("makes no arc"));
  EXPECT_THAT(message_of({SplineCurve{3, {0, 0, 0, 0, 1, 1, 1}, {{0, 0}, {1, 0}, {2, 1}, {3, 0}}}}),
              HasSubstr("7 knots for 4 control points of degree 3"));
  EXPECT_THAT(message_of({SplineCurve{3, {0, 0, 0, 0, 1, 1, 1, 0.5}, {{0, 0}, {1, 0}, {2, 1}, {3, 0}}}}),
              HasSubstr("knots that fall"));
  EXPECT_THAT(message_of({SplineCurve{2, {0, 0, 0, 1, 1, 1}, {{0, 0}, {1, 0}, {2, 1}}, {1, -1, 1}}}),
              HasSubstr("a weight that is not above zero"));
}

TEST(SplineCurves, PartsBeginAtTheirControlPointsAndKinksPartThem) {
  // Unclamped uniform cubic, closed by repeating three control points: a smooth ring.
  SplineCurve ring{3, {}, {}};
  for (int i = 0; i < 11; ++i) ring.points.emplace_back(10 * std::cos(pi * i / 4), 10 * std::sin(pi * i / 4));
  for (int i = 0; i < 15; ++i) ring.knots.push_back(i);
  const auto parts = smooth_parts(ring);
  ASSERT_EQ(parts.size(), 2U);  // a closed curve in two
  EXPECT_LT((parts[0].points.back() - parts[1].points.front()).norm(), 1e-12);
  EXPECT_LT((parts[1].points.back() - parts[0].points.front()).norm(), 1e-12);
  // A point of a uniform cubic at a knot: (p0 + 4 p1 + p2)/6 (Piegl and Tiller 1997, from the basis
  // functions).
  const Vector2d start = (ring.points[0] + 4 * ring.points[1] + ring.points[2]) / 6;
  EXPECT_LT((parts[0].points.front() - start).norm(), 1e-12);
  // Degree 1 is a chain of lines.
  EXPECT_EQ(smooth_parts({1, {0, 0, 1, 2, 2}, {{0, 0}, {5, 0}, {5, 5}}}).size(), 2U);
}

TEST(SplineCurves, EllipsesAreExact) {
  const SplineCurve arc = ellipse_arc({3, -2}, {8, 6}, 0.35, 0.4, 4.9);
  const SplineSamples samples = sample(arc);
  for (const auto& x : samples.points) {
    const Vector2d d = x - Vector2d(3, -2);
    const double u = d.dot(Vector2d(8, 6)) / 100, v = d.dot(Vector2d(-6, 8)) / 35;
    EXPECT_NEAR(u * u + v * v, 1, 1e-12);
  }
  // Largest curvature at the end of the major axis: radius b^2/a.
  EXPECT_NEAR(*std::min_element(samples.radius.begin(), samples.radius.end()), 3.5 * 3.5 / 10, 0.01);
}

}  // namespace
}  // namespace halftool::mesh
