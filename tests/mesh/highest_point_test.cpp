#include "mesh/highest_point.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

TEST(HighestUnder, BetweenTheNodesOfACurvedFacetAndOnASlope) {
  // One cell over the crown of a cylinder of radius 10: no node on the crown.
  const auto crown = [](double u, double v) {
    const double angle = 0.2 * (u - 0.5);
    const Eigen::Vector3d n(std::sin(angle), 0, std::cos(angle));
    return testing::SurfacePoint{10 * n + Eigen::Vector3d(0, 5 * v, 0), n};
  };
  const ToolSurface tool = testing::tool_over_square(1, 1, 0, crown);
  const auto top = highest_under(tool, {{-0.5, 1}, {0.5, 1}, {0.5, 4}, {-0.5, 4}}, {});
  ASSERT_TRUE(top.has_value());
  EXPECT_NEAR(*top, 10, 2e-4);
  EXPECT_FALSE(highest_under(tool, {{5, 1}, {6, 1}, {6, 4}}, {}).has_value());
  const auto beside = highest_under(tool, {{0.3, 1}, {0.9, 1}, {0.9, 4}, {0.3, 4}}, {});
  EXPECT_NEAR(*beside, std::sqrt(100 - 0.09), 1e-3);
  const auto around_hole = highest_under(tool, {{-0.9, 1}, {0.9, 1}, {0.9, 4}, {-0.9, 4}},
                                         {{{-0.3, -1}, {0.3, -1}, {0.3, 6}, {-0.3, 6}}});
  EXPECT_NEAR(*around_hole, std::sqrt(100 - 0.09), 1e-3);
}

/// A plate at z = 20 around a round opening of radius 30, of facets with straight sides.
ToolSurface plate_around_opening() {
  return testing::tool_over_square(1, 12, 0, [](double u, double v) {
    const double angle = 2 * std::numbers::pi * v;
    const double radius = 30 + 70 * u;
    return testing::SurfacePoint{{radius * std::cos(angle), radius * std::sin(angle), 20},
                                 Eigen::Vector3d::UnitZ()};
  });
}

std::vector<Eigen::Vector2d> disc(double radius) {
  return as_polygon(circle({0, 0}, radius, "disc"));
}

// Before the border of the region was looked at, every facet whose box met that of the disc was halved to the
// end: minutes, which the time limit of this program does not leave.
TEST(HighestUnder, InsideAnOpeningAndJustOverItsRim) {
  const ToolSurface plate = plate_around_opening();
  EXPECT_FALSE(highest_under(plate, disc(25), {}).has_value());
  EXPECT_FALSE(highest_under(plate, disc(28.97), {}).has_value());  // the rim is drawn as 12 chords
  EXPECT_EQ(highest_under(plate, disc(29.2), {}), 20);
  EXPECT_EQ(highest_under(plate, disc(45), {}), 20);
  EXPECT_FALSE(highest_under(plate, disc(200), {disc(101)}).has_value());
}

std::string refusal_of(const ToolSurface& tool, double radius) {
  BlankSpec spec;
  spec.outline = CircleOutline{radius};
  try {
    resting_level(place_outline(spec), tool);
  } catch (const MeshError& error) {
    return error.what();
  }
  return "none";
}

TEST(RestingLevel, RefusesABlankWithNothingUnderIt) {
  EXPECT_EQ(refusal_of(plate_around_opening(), 45), "none");
  const std::string nothing = refusal_of(plate_around_opening(), 25);
  EXPECT_THAT(nothing, ::testing::HasSubstr("from (-25 -25) to (25 25) mm, does not lie over the tool"));
  EXPECT_THAT(nothing, ::testing::HasSubstr("blank.place"));
  EXPECT_THAT(nothing, ::testing::HasSubstr("larger than the opening"));
}

}  // namespace
}  // namespace halftool::mesh
