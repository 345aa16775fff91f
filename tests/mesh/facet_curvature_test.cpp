#include "mesh/facet_curvature.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

using halftool::testing::SurfacePoint;

TEST(FacetCurvature, OfACylinderASphereAndAPlane) {
  const auto cylinder = halftool::testing::tool_over_square(20, 5, 0.2, [](double u, double v) {
    const Eigen::Vector3d normal(std::sin(u), 0, std::cos(u));
    return SurfacePoint{5 * normal + Eigen::Vector3d(0, 10 * v, 0), normal};
  });
  for (const auto& facet : cylinder.facets()) {
    EXPECT_NEAR(principal_curvatures(facet)(0), 0.2, 0.002);
    EXPECT_NEAR(principal_curvatures(facet)(1), 0, 0.002);
  }
  const auto bowl = halftool::testing::tool_over_square(12, 12, 0.2, [](double u, double v) {
    const Eigen::Vector3d way = Eigen::Vector3d(u - 0.5, v - 0.5, -1).normalized();
    return SurfacePoint{20 * way, -way};
  });
  for (const auto& facet : bowl.facets()) {
    EXPECT_NEAR(principal_curvatures(facet)(0), -0.05, 0.0015);
    EXPECT_NEAR(principal_curvatures(facet)(1), -0.05, 0.0015);
  }
  for (const auto& facet : halftool::testing::box_tool({1, 2, 3}).facets())
    EXPECT_EQ(principal_curvatures(facet), Eigen::Vector2d::Zero());
}

TEST(FacetCurvature, OfASaddleTheLargerComesFirst) {
  // z = x^2/20 - y^2/80 about its middle: 0.1 hollow along x, 0.025 bulging along y.
  const auto saddle = halftool::testing::tool_over_square(9, 9, 0, [](double u, double v) {
    const double x = u - 0.5, y = v - 0.5;
    return SurfacePoint{{x, y, x * x / 20 - y * y / 80}, Eigen::Vector3d(-x / 10, y / 40, 1).normalized()};
  });
  for (const auto& facet : saddle.facets()) {
    EXPECT_NEAR(principal_curvatures(facet)(0), -0.1, 0.002);
    EXPECT_NEAR(principal_curvatures(facet)(1), 0.025, 0.002);
  }
}

}  // namespace
}  // namespace halftool::mesh
