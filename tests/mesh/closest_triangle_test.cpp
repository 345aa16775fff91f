#include "mesh/closest_triangle.hpp"

#include <gtest/gtest.h>

#include <random>
#include <vector>

#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

Eigen::Vector3d at(const std::array<Eigen::Vector3d, 3>& p, const Eigen::Vector3d& b) {
  return b(0) * p[0] + b(1) * p[1] + b(2) * p[2];
}

/// Distance by trying a fine grid of the triangle: an upper bound that comes close.
double sampled_distance(const Eigen::Vector3d& x, const std::array<Eigen::Vector3d, 3>& p) {
  double best = 1e300;
  constexpr int n = 200;
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; i + j <= n; ++j) {
      const Eigen::Vector3d b(1.0 - (i + j) / static_cast<double>(n), i / static_cast<double>(n),
                              j / static_cast<double>(n));
      best = std::min(best, (x - at(p, b)).norm());
    }
  }
  return best;
}

TEST(ClosestInTriangle, IsNeverBeatenBySamplingInAnyRegion) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> uniform(-2, 2);
  const auto point = [&] { return Eigen::Vector3d(uniform(random), uniform(random), uniform(random)); };
  for (int k = 0; k < 200; ++k) {
    std::array<Eigen::Vector3d, 3> corners{point(), point(), point()};
    if (k % 5 == 0) corners[2] = 1.3 * corners[0] - 0.3 * corners[1];  // without area
    const Eigen::Vector3d x = point();

    const Eigen::Vector3d b = closest_in_triangle(x, corners);

    EXPECT_NEAR(b.sum(), 1, 1e-12);
    EXPECT_GE(b.minCoeff(), 0);
    const double distance = (x - at(corners, b)).norm();
    const double sampled = sampled_distance(x, corners);
    EXPECT_LE(distance, sampled + 1e-12);
    EXPECT_NEAR(distance, sampled, 0.02);
  }
}

TEST(TriangleTree, StandsBesideAThousandOthers) {
  SurfaceMesh mesh;
  mesh.nodes.resize(3, 3);
  mesh.nodes << 0, 0, 0, 1, 0, 0, 0, 1, 0;
  mesh.triangles.resize(1, 3);
  mesh.triangles << 0, 1, 2;
  std::vector<TriangleTree> trees;  // a device each was refused at the 1018th
  for (int i = 0; i < 1200; ++i) {
    mesh.nodes.col(2).setConstant(0.01 * i);
    trees.emplace_back(mesh);
  }
  for (int i = 0; i < 1200; ++i) {
    const auto found = trees[static_cast<std::size_t>(i)].closest({0.2, 0.2, 20}, 30);
    ASSERT_TRUE(found.has_value());
    EXPECT_NEAR(found->distance, 20 - 0.01 * i, 1e-12);
  }
}

TEST(TriangleTree, FindsWhatTryingEveryTriangleFinds) {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> uniform(0, 100);
  SurfaceMesh mesh;
  mesh.nodes.resize(900, 3);
  for (Eigen::Index i = 0; i < mesh.nodes.size(); ++i) mesh.nodes.data()[i] = uniform(random);
  mesh.triangles.resize(300, 3);
  for (int t = 0; t < 300; ++t) mesh.triangles.row(t) << 3 * t, 3 * t + 1, 3 * t + 2;
  const TriangleTree tree(mesh);
  for (int k = 0; k < 300; ++k) {
    const Eigen::Vector3d x(uniform(random), uniform(random), uniform(random));
    double best = 1e300;
    for (int t = 0; t < 300; ++t) {
      const std::array<Eigen::Vector3d, 3> corners{mesh.nodes.row(3 * t), mesh.nodes.row(3 * t + 1),
                                                   mesh.nodes.row(3 * t + 2)};
      best = std::min(best, (x - at(corners, closest_in_triangle(x, corners))).norm());
    }

    const auto found = tree.closest(x, 200);

    ASSERT_TRUE(found.has_value());
    EXPECT_NEAR(found->distance, best, 1e-12);
    EXPECT_FALSE(tree.closest(x, 0.99 * best).has_value());
  }
}

TEST(TriangleTree, RaysMeetABoxAtItsFaces) {
  const auto box = halftool::testing::box_tool({3, 2, 1});
  const TriangleTree tree(box.mesh());
  const Eigen::Vector3d way = Eigen::Vector3d(-1, 0.2, 0.1).normalized();
  const auto from_outside = tree.first_hit({10, 0.3, 0.1}, way, 0);
  ASSERT_TRUE(from_outside.has_value());
  EXPECT_NEAR(10 + from_outside->distance * way.x(), 3, 1e-12);
  const auto from_inside = tree.first_hit({0.5, 0.3, 0.1}, Eigen::Vector3d::UnitY(), 0);
  ASSERT_TRUE(from_inside.has_value());
  EXPECT_NEAR(from_inside->distance, 1.7, 1e-12);
  EXPECT_FALSE(tree.first_hit({10, 0.3, 0.1}, -way, 0).has_value());
  // A hit nearer than asked for does not count: from the face itself to the one behind.
  EXPECT_NEAR(tree.first_hit({3, 0.3, 0.1}, -Eigen::Vector3d::UnitX(), 1e-3)->distance, 6, 1e-12);
}

TEST(TriangleTree, LowerNumberWinsATie) {
  SurfaceMesh mesh;
  mesh.nodes.resize(4, 3);
  mesh.nodes << 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0;
  mesh.triangles.resize(2, 3);
  mesh.triangles << 0, 1, 2, 0, 2, 3;
  const TriangleTree tree(mesh);
  for (double s = 0.1; s < 1; s += 0.1) EXPECT_EQ(tree.closest({s, s, 0.5}, 1)->triangle, 0);
  for (double s = 0.1; s < 1; s += 0.1) {  // also where the search before has found the other
    EXPECT_EQ(tree.closest({0.1, 0.9, 0.5}, 1)->triangle, 1);
    EXPECT_EQ(tree.closest({s, s, 0.5}, 1)->triangle, 0);
  }
}

}  // namespace
}  // namespace halftool::mesh
