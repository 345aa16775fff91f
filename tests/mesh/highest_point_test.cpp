#include "mesh/highest_point.hpp"

#include <gtest/gtest.h>

#include <cmath>

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

}  // namespace
}  // namespace halftool::mesh
