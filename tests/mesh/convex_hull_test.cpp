#include "mesh/convex_hull.hpp"

#include <gtest/gtest.h>

namespace halftool::mesh {
namespace {

using Points2 = std::vector<Eigen::Vector2d>;

TEST(ConvexHull, CornersInOrderWithoutWhatLiesWithinOrOnASide) {
  const Points2 points{{2, 2}, {0, 0}, {1, 1}, {0, 2}, {1, 0}, {2, 0}, {0, 0}};
  EXPECT_EQ(convex_hull(points), (Points2{{0, 0}, {2, 0}, {2, 2}, {0, 2}}));
}

TEST(ConvexHull, OfALineAPointAndNothing) {
  EXPECT_EQ(convex_hull({{3, 3}, {1, 1}, {2, 2}}), (Points2{{1, 1}, {3, 3}}));
  EXPECT_EQ(convex_hull({{1, 1}, {1, 1}}), (Points2{{1, 1}}));
  EXPECT_TRUE(convex_hull({}).empty());
}

}  // namespace
}  // namespace halftool::mesh
