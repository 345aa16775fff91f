#include "mesh/outline.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using ::testing::HasSubstr;

std::string message_of(const Outline& outline, const std::vector<Hole>& holes = {}) {
  BlankSpec spec;
  spec.outline = outline;
  spec.holes = holes;
  try {
    place_outline(spec);
  } catch (const MeshError& error) {
    return error.what();
  }
  return "no error";
}

TEST(PlaceOutline, RefusesWrongMeasures) {
  EXPECT_THAT(message_of(RectangleOutline{0, 60, 0}), HasSubstr("length of the blank is 0 mm"));
  EXPECT_THAT(message_of(RectangleOutline{100, -2, 0}), HasSubstr("width of the blank is -2 mm"));
  EXPECT_THAT(message_of(CircleOutline{0}), HasSubstr("radius of the blank is 0 mm"));
  EXPECT_THAT(message_of(RectangleOutline{100, 60, -1}),
              HasSubstr("radius of corner 1 of the blank is -1 mm"));
  EXPECT_THAT(message_of(RectangleOutline{100, 60, 31}), HasSubstr("at corner 2 of the blank is too large"));
  EXPECT_EQ(message_of(RectangleOutline{100, 60, 30}), "no error");
}

TEST(PlaceOutline, RefusesImpossiblePolygons) {
  EXPECT_THAT(message_of(PolygonOutline{{{0, 0}, {1, 0}}, {}}),
              HasSubstr("has 2 corners; a polygon needs at least 3"));
  EXPECT_THAT(message_of(PolygonOutline{{{0, 0}, {10, 0}, {10, 0}, {0, 10}}, {}}),
              HasSubstr("corners 2 and 3 of the blank are the same point (10, 0)"));
  EXPECT_THAT(
      message_of(PolygonOutline{{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, {}}),
      HasSubstr("crosses itself: the side from corner 1 (0, 0) meets the side from corner 3 (10, 0)"));
  EXPECT_THAT(message_of(PolygonOutline{{{0, 0}, {10, 0}, {5, 0}, {5, 5}}, {}}),
              HasSubstr("runs back on itself at corner 2 (10, 0)"));
  EXPECT_THAT(message_of(PolygonOutline{{{0, 0}, {10, 0}, {10, 10}}, {1, 1}}),
              HasSubstr("has 3 corners but 2 corner radii"));
}

TEST(PlaceOutline, RefusesHolesOutsideAcrossOrOverlapping) {
  const RectangleOutline sheet{100, 60, 10};
  EXPECT_THAT(message_of(sheet, {{{60, 0}, 2}}),
              HasSubstr("hole 1 at (60, 0) with radius 2 mm does not lie inside the blank"));
  EXPECT_THAT(message_of(sheet, {{{48, 0}, 3}}), HasSubstr("hole 1 at (48, 0)"));
  EXPECT_THAT(message_of(sheet, {{{46, 26}, 3.5}}),
              HasSubstr("hole 1 at (46, 26)"));  // across the rounded corner
  EXPECT_THAT(message_of(sheet, {{{0, 0}, 5}, {{8, 0}, 4}}), HasSubstr("holes 1 and 2 of the blank overlap"));
  EXPECT_THAT(message_of(sheet, {{{0, 0}, 0}}), HasSubstr("radius of hole 1 of the blank is 0 mm"));
  EXPECT_EQ(message_of(sheet, {{{0, 0}, 5}, {{10, 0}, 4}}), "no error");
}

TEST(PlaceOutline, RoundedCornersAreTangentArcs) {
  BlankSpec spec;
  spec.outline = PolygonOutline{{{0, 0}, {40, 0}, {20, 30}}, {3, 0, 4}};
  const PlacedOutline placed = place_outline(spec);
  for (std::size_t i = 0; i < placed.outer.size(); ++i) {
    const auto& piece = placed.outer[i];
    const auto& next = placed.outer[(i + 1) % placed.outer.size()];
    EXPECT_LT((piece.end - next.start).norm(), 1e-12);
    if (!piece.centre) continue;
    EXPECT_NEAR((piece.end - *piece.centre).norm(), piece.radius(), 1e-12);
    EXPECT_NEAR((next.end - next.start).normalized().dot((piece.end - *piece.centre).normalized()), 0, 1e-12);
  }
}

TEST(DistanceTo, LineAndArcAgainstSampling) {
  const OutlinePiece line{{0, 0}, {10, 5}, std::nullopt, ""};
  const OutlinePiece arc{{3, 0}, {0, 3}, Vector2d(0, 0), ""};
  for (double angle = 0; angle < 6.28; angle += 0.3) {
    for (const double r : {0.5, 2.0, 5.0}) {
      const Vector2d x(r * std::cos(angle), r * std::sin(angle));
      double to_line = 1e9, to_arc = 1e9;
      for (int i = 0; i <= 20000; ++i) {
        const double s = i / 20000.0;
        to_line = std::min(to_line, (x - s * Vector2d(10, 5)).norm());
        const double turn = s * std::numbers::pi / 2;
        to_arc = std::min(to_arc, (x - 3 * Vector2d(std::cos(turn), std::sin(turn))).norm());
      }
      EXPECT_NEAR(distance_to(line, x), to_line, 1e-6);
      EXPECT_NEAR(distance_to(arc, x), to_arc, 1e-6);
    }
  }
}

TEST(IsInside, HollowPolygon) {
  const std::vector<Vector2d> polygon{{0, 0}, {10, 0}, {10, 10}, {5, 4}, {0, 10}};
  EXPECT_TRUE(is_inside(polygon, {1, 5}));
  EXPECT_TRUE(is_inside(polygon, {5, 3}));
  EXPECT_FALSE(is_inside(polygon, {5, 6}));
  EXPECT_FALSE(is_inside(polygon, {-1, 5}));
}

}  // namespace
}  // namespace halftool::mesh
