#include "mesh/pins.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "mesh/chain_curves.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using ::testing::HasSubstr;

constexpr double pi = std::numbers::pi;

/// 100 by 40 with holes of 8 mm at x = -30 and 30.
BlankSpec sheet(const std::vector<Pin>& pins) {
  BlankSpec spec;
  spec.outline = RectangleOutline{100, 40, 0};
  spec.holes = {{{-30, 0}, 4}, {{30, 0}, 4}};
  spec.pins = pins;
  spec.thickness = 1;
  return spec;
}

std::string message_of(const BlankSpec& spec) {
  try {
    place_pins(spec, place_outline(spec));
  } catch (const MeshError& error) {
    return error.what();
  }
  return "no error";
}

TEST(PlacePins, FindsTheHoleAndItsClearance) {
  BlankSpec spec = sheet({{{30.05, 0}, 3.9}, {{-30, 0.02}, 3.95}});
  spec.turn = 0.3;
  spec.place = {5, 2};
  const auto placed = place_pins(spec, place_outline(spec));
  ASSERT_EQ(placed.size(), 2U);
  EXPECT_EQ(placed[0].hole, 1U);
  EXPECT_EQ(placed[1].hole, 0U);
  EXPECT_NEAR(placed[0].clearance, 0.05, 1e-9);
  EXPECT_NEAR(placed[1].clearance, 0.03, 1e-9);
  EXPECT_LT((placed[0].pin.centre - Vector2d(5 + 30.05 * std::cos(0.3), 2 + 30.05 * std::sin(0.3))).norm(),
            1e-12);
}

TEST(PlacePins, RefusesPinsWithoutTheirHole) {
  EXPECT_THAT(message_of(sheet({{{0, 0}, 2}})),
              HasSubstr("pin 1 of 4 mm at (0, 0) stands in no hole of the blank"));
  EXPECT_THAT(message_of(sheet({{{30, 0}, 4.1}})),
              HasSubstr("pin 1 of 8.2 mm at (30, 0) reaches 0.1 mm past the rim"));
  EXPECT_THAT(message_of(sheet({{{30.2, 0}, 3.9}})), HasSubstr("reaches 0.1 mm past the rim of its hole"));
  EXPECT_THAT(message_of(sheet({{{30, 0}, 0}})), HasSubstr("pin 1 of the blank has no radius above zero"));
  EXPECT_THAT(message_of(sheet({{{29, 0}, 1}, {{31.5, 0}, 1}})), HasSubstr("pins 1 and 2 stand in one hole"));
  EXPECT_EQ(message_of(sheet({{{30, 0}, 4}})), "no error");  // one pin may fill its hole
}

TEST(PlacePins, TwoPinsNeedPlayAlongTheLineThatJoinsThem) {
  const std::string locked = "pins 1 and 2 leave the sheet no play between them";
  EXPECT_THAT(message_of(sheet({{{-30, 0}, 4}, {{30, 0}, 4}})), HasSubstr(locked));
  EXPECT_EQ(message_of(sheet({{{-30, 0}, 4}, {{30, 0}, 3.99}})), "no error");
  // A slot along the line: a pin may fill its width.
  BlankSpec spec = sheet({{{-30, 0}, 4}, {{30, 0}, 4}});
  const auto slot = [](double turn) {
    const Vector2d u(std::cos(turn), std::sin(turn)), v(-u.y(), u.x()), c(30, 0);
    return std::vector<PlaneCurve>{
        LineCurve{c - u - 4 * v, c + u - 4 * v}, ArcCurve{c + u, 4, turn - pi / 2, pi},
        LineCurve{c + u + 4 * v, c - u + 4 * v}, ArcCurve{c - u, 4, turn + pi / 2, pi}};
  };
  for (const double turn : {0.0, pi / 2}) {
    std::vector<PlaneCurve> curves{LineCurve{{-50, -20}, {50, -20}}, LineCurve{{50, -20}, {50, 20}},
                                   LineCurve{{50, 20}, {-50, 20}}, LineCurve{{-50, 20}, {-50, -20}}};
    for (const auto& curve : slot(turn)) curves.push_back(curve);
    spec.outline = chain_curves(curves);
    spec.holes = {{{-30, 0}, 4}};
    if (turn == 0)
      EXPECT_EQ(message_of(spec), "no error");
    else
      EXPECT_THAT(message_of(spec), HasSubstr(locked));
  }
}

TEST(PlacePins, TravelInARoundHoleAgainstTheClosedForm) {
  const Loop hole = circle({0, 0}, 5, "");
  const Pin pin{{0.5, 0.2}, 4};
  for (double angle = 0; angle < 2 * pi; angle += 0.5) {
    const Vector2d u(std::cos(angle), std::sin(angle));
    // |c + s u| = R - r
    const double b = pin.centre.dot(u);
    EXPECT_NEAR(travel(pin, hole, u), -b + std::sqrt(b * b + 1 - pin.centre.squaredNorm()), 1e-6);
  }
}

TEST(MakeBlank, RimsOfPinnedHolesAreMarked) {
  ToolSpec block;
  block.shape = StraightBlock{90, 40, 35, 3};
  const ToolSurface tool = make_tool(block);
  BlankSpec spec = sheet({{{30, 0}, 3.9}, {{-30, 0}, 3.9}});
  for (const bool half : {false, true}) {
    spec.symmetric_x = half;
    const Blank blank = make_blank(spec, {}, tool);
    ASSERT_EQ(blank.pins.size(), half ? 1U : 2U);  // the other one lies in the half that is not computed
    for (const PinnedRim& rim : blank.pins) {
      double length = 0;
      for (const int e : rim.edges) {
        EXPECT_EQ(blank.edge_kind[static_cast<std::size_t>(e)], EdgeKind::hole);
        const Vector2d a = blank.mesh.nodes.row(blank.edges.nodes(e, 0)).head<2>();
        const Vector2d b = blank.mesh.nodes.row(blank.edges.nodes(e, 1)).head<2>();
        EXPECT_NEAR((a - rim.pin.centre).norm(), 4, 1e-9);
        length += (b - a).norm();
      }
      EXPECT_NEAR(length, 2 * pi * 4, 0.02 * 2 * pi * 4);
      EXPECT_NEAR(rim.clearance, 0.1, 1e-9);
    }
  }
}

}  // namespace
}  // namespace halftool::mesh
