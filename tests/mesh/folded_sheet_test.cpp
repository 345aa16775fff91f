#include "mesh/folded_sheet.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/meshes.hpp"

namespace halftool::mesh {
namespace {

/// A strip, 40 by 10 from the origin, bent to a whole turn and more of a spiral about the y axis, whose end
/// comes back to a height over its start.
SurfaceMesh rolled(double rise) {
  SurfaceMesh strip = test::rectangle(40, 10, 40, 10);
  for (Eigen::Index i = 0; i < strip.n_nodes(); ++i) {
    const double s = strip.nodes(i, 0);
    const double turn = s / 5;
    const double radius = 5 + rise * s / 40;
    strip.nodes(i, 0) = radius * std::sin(turn);
    strip.nodes(i, 2) = 5 - radius * std::cos(turn);
  }
  return strip;
}

TEST(FoldedSheet, FlatAndRolledSheetsHaveNone) {
  EXPECT_EQ(find_folds(test::rectangle(40, 10, 4, 4), 0.05, false, false).triangles, 0);
  EXPECT_EQ(find_folds(rolled(3), 0.05, false, false).triangles, 0);
}

TEST(FoldedSheet, ASheetThroughItselfIsFound) {
  SurfaceMesh sheet = test::irregular_rectangle(40, 10, 40, 10, 1);
  for (Eigen::Index i = 0; i < sheet.n_nodes(); ++i) {  // up, and back down through where it came from
    const double x = sheet.nodes(i, 0);
    sheet.nodes(i, 0) = x < 20 ? x : 20 - 0.5 * (x - 20);
    sheet.nodes(i, 2) = x < 20 ? 0.0 : 2 - 0.3 * (x - 20);
  }
  const FoldedSheet found = find_folds(sheet, 0.05, false, false);
  EXPECT_GT(found.triangles, 10);
  EXPECT_NEAR(found.at.z(), 0, 0.6);
  EXPECT_NEAR(found.at.x(), 20 - 2 / 0.6, 1);
}

TEST(FoldedSheet, AHalfThatPassesThePlaneOfSymmetryIsFound) {
  SurfaceMesh sheet = test::rectangle(40, 10, 8, 4);
  sheet.nodes.col(0).array() -= 0.04;
  EXPECT_EQ(find_folds(sheet, 0.05, true, true).triangles, 0);
  sheet.nodes.col(0).array() -= 8;
  EXPECT_GT(find_folds(sheet, 0.05, true, false).triangles, 4);
  EXPECT_LT(find_folds(sheet, 0.05, true, false).at.x(), 0);
  EXPECT_EQ(find_folds(sheet, 0.05, false, true).triangles, 0);
}

}  // namespace
}  // namespace halftool::mesh
