#include "mesh/tool_in_sheet.hpp"

#include <gtest/gtest.h>

#include "tests/support/cuboids.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::mesh {
namespace {

/// A flat sheet, 40 by 40 about the origin in triangles of 10 mm, at a height.
SurfaceMesh sheet_at(double height) {
  SurfaceMesh sheet = test::rectangle(40, 40, 4, 4);
  sheet.nodes.rowwise() += Eigen::RowVector3d(-20, -20, height);
  return sheet;
}

Eigen::VectorXd thick(const SurfaceMesh& sheet, double thickness) {
  return Eigen::VectorXd::Constant(sheet.n_triangles(), thickness);
}

TEST(ToolInSheet, ARibSmallerThanATriangleIsSeen) {
  // A rib of 1 mm between the middles of the triangles, its top 0.3 mm above the sheet's tool face.
  const ToolSurface tool =
      halftool::testing::tool_of({{{-30, -30, -5}, {30, 30, 0}}, {{4.5, -30, 0}, {5.5, 30, 2.3}}});
  const SurfaceMesh sheet = sheet_at(2.5);
  const ToolInSheet found = deepest_in_sheet(tool, sheet, thick(sheet, 1));
  EXPECT_NEAR(found.depth, 0.3, 1e-9);
  EXPECT_NEAR(found.at.z(), 2.3, 1e-9);
  EXPECT_NEAR(std::abs(found.at.x() - 5), 0.5, 1e-9);
  EXPECT_LT(std::abs(found.at.y()), 20);
}

TEST(ToolInSheet, ASheetThatLiesOnTheToolHasNothingInIt) {
  const ToolSurface tool = halftool::testing::tool_of({{{-30, -30, -5}, {30, 30, 0}}});
  const SurfaceMesh sheet = sheet_at(0.5);
  EXPECT_NEAR(deepest_in_sheet(tool, sheet, thick(sheet, 1)).depth, 0, 1e-12);
}

TEST(ToolInSheet, WhatStandsBesideTheSheetIsNotInIt) {
  const ToolSurface tool = halftool::testing::tool_of({{{20.2, -30, -5}, {30, 30, 5}}});
  const SurfaceMesh sheet = sheet_at(0.5);
  EXPECT_EQ(deepest_in_sheet(tool, sheet, thick(sheet, 1)).depth, 0);
}

}  // namespace
}  // namespace halftool::mesh
