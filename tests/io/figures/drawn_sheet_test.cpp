#include "io/figures/drawn_sheet.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "io/results/nodal_average.hpp"
#include "tests/io/results/bent_strip.hpp"

namespace halftool::io {
namespace {

/// Unit square in z = 0 split in two, x from 0 to 1.
DrawnSheet square() {
  DrawnSheet sheet;
  sheet.positions.resize(4, 3);
  sheet.positions << 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0;
  sheet.triangles.resize(2, 3);
  sheet.triangles << 0, 1, 2, 0, 2, 3;
  sheet.thickness = Eigen::VectorXd{{0.2, 0.2}};
  sheet.thinning = Eigen::VectorXd{{0.1, 0.3}};
  sheet.limit_share = Eigen::VectorXd{{0.5, 1.2}};
  return sheet;
}

TEST(DrawnSheet, MirrorJoinsAlongThePlane) {
  const DrawnSheet whole = mirrored(square(), 0);
  EXPECT_EQ(whole.positions.rows(), 6);  // the two nodes at x = 0 are shared
  EXPECT_EQ(whole.triangles.rows(), 4);
  EXPECT_DOUBLE_EQ(triangle_areas(whole.triangles, whole.positions).sum(), 2);
  EXPECT_DOUBLE_EQ(whole.positions.col(0).minCoeff(), -1);
  EXPECT_DOUBLE_EQ(whole.thinning(3), 0.3);
  EXPECT_EQ(border_edges(whole.triangles).size(), 6U);  // no border left along the plane
  const mesh::Points normals = nodal_normals(whole.triangles, whole.positions);
  EXPECT_DOUBLE_EQ(normals.col(2).minCoeff(), 1);  // the mirrored half still faces the pad
}

TEST(DrawnSheet, ThickSurfaceIsAClosedSolid) {
  const DrawnSheet sheet = square();
  const Surface solid = thick_surface(sheet, sheet.triangles);
  EXPECT_TRUE(border_edges(solid.triangles).empty());
  double volume = 0;  // by the divergence theorem: outward faces all round
  for (Eigen::Index t = 0; t < solid.triangles.rows(); ++t) {
    Eigen::Matrix3d corners;
    for (int i = 0; i < 3; ++i) corners.row(i) = solid.points.row(solid.triangles(t, i));
    volume += corners.determinant() / 6;
  }
  EXPECT_NEAR(volume, 0.2, 1e-12);
}

TEST(DrawnSheet, ShowsTheLargerShareOfTheLimit) {
  const double none = std::numeric_limits<double>::quiet_NaN();
  solver::SheetFields fields;
  fields.limit_share = Eigen::VectorXd{{0.5, none, 0.3, none, 0.9}};
  fields.path_share = Eigen::VectorXd{{1.02, 0.2, none, none, 0.4}};
  const Eigen::VectorXd shares = larger_shares(fields);
  EXPECT_EQ(shares.head(3), Eigen::Vector3d(1.02, 0.2, 0.3));
  EXPECT_TRUE(std::isnan(shares(3)));
  EXPECT_EQ(shares(4), 0.9);
  fields.path_share.resize(0);
  EXPECT_EQ(larger_shares(fields)(0), 0.5);
}

TEST(DrawnSheet, FindsTheTrianglesOverTheLimit) {
  const mesh::Triangles over = triangles_over(square());
  ASSERT_EQ(over.rows(), 1);
  EXPECT_EQ(over.row(0), Eigen::RowVector3i(0, 2, 3));
}

}  // namespace
}  // namespace halftool::io
