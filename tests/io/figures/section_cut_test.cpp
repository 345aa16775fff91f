#include "io/figures/section_cut.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/io/results/bent_strip.hpp"

namespace halftool::io {
namespace {

double enclosed_area(const Eigen::MatrixX2d& outline) {
  double twice = 0;
  for (Eigen::Index i = 0; i < outline.rows(); ++i) {
    const Eigen::Index j = (i + 1) % outline.rows();
    twice += outline(i, 0) * outline(j, 1) - outline(j, 0) * outline(i, 1);
  }
  return std::abs(twice) / 2;
}

double length(const CutLine& line) {
  double sum = 0;
  for (Eigen::Index i = 0; i + 1 < line.points.rows(); ++i)
    sum += (line.points.row(i + 1) - line.points.row(i)).head<2>().norm();
  return sum;
}

/// Surface of the unit cube.
mesh::SurfaceMesh cube() {
  mesh::SurfaceMesh mesh;
  mesh.nodes.resize(8, 3);
  for (int n = 0; n < 8; ++n) mesh.nodes.row(n) << (n & 1), (n >> 1 & 1), (n >> 2 & 1);
  mesh.triangles.resize(12, 3);
  mesh.triangles << 0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6,
      1, 3, 5, 3, 7, 5;
  return mesh;
}

TEST(SectionCut, ClosedBodyGivesAClosedLoop) {
  const mesh::SurfaceMesh body = cube();
  for (const int axis : {0, 1}) {
    const auto lines = cut_surface(body.nodes, body.triangles, {axis, 0.3}, Eigen::MatrixXd(8, 0));
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_TRUE(lines[0].closed);
    EXPECT_NEAR(enclosed_area(lines[0].points), 1, 1e-12);
  }
}

TEST(SectionCut, CarriesValuesAlong) {
  const mesh::SurfaceMesh body = cube();
  const Eigen::MatrixXd carried = body.nodes.rowwise().sum();  // linear: exact wherever it is cut
  const auto lines = cut_surface(body.nodes, body.triangles, {1, 0.3}, carried);
  for (Eigen::Index i = 0; i < lines[0].points.rows(); ++i)
    EXPECT_NEAR(lines[0].points(i, 2), lines[0].points(i, 0) + 0.3 + lines[0].points(i, 1), 1e-12);
}

TEST(SectionCut, PlaneThroughNodesLosesNothing) {
  const test::BentStrip strip = test::make_bent_strip(30, 10);  // nodes lie on y = 0
  const auto lines = cut_surface(strip.formed.positions, strip.formed.triangles, {1, 0.0},
                                 Eigen::MatrixXd(strip.formed.positions.rows(), 0));
  ASSERT_EQ(lines.size(), 1U);
  EXPECT_FALSE(lines[0].closed);
  const double arc = (strip.radius + strip.thickness / 2) * std::numbers::pi / 2;
  EXPECT_NEAR(length(lines[0]), 60 + arc + 20, 0.15);  // chords of a bend of radius 3.8 in steps of 2.9
}

TEST(SectionCut, BandHasTheSheetsArea) {
  test::BentStrip strip = test::make_bent_strip(300, 10);
  strip.formed.thickness.setConstant(1.6);
  const auto bands = cut_sheet(take_sheet(strip.formed), {1, 3.3});
  ASSERT_EQ(bands.size(), 1U);
  const double arc = (strip.radius + strip.thickness / 2) * std::numbers::pi / 2;
  EXPECT_NEAR(enclosed_area(bands[0]), 1.6 * (60 + arc + 20), 0.05);
}

TEST(SectionCut, SlantingSheetShowsThicker) {
  // A sheet that leans 60 degrees out of the plane of the cut is cut to twice its thickness.
  DrawnSheet sheet;
  sheet.positions.resize(4, 3);
  const double c = std::sqrt(3.0) / 2;
  sheet.positions << 0, 0, 0, 4, 0, 0, 4, 0.5, c, 0, 0.5, c;  // tangent (0, 1/2, c), normal (0, -c, 1/2)
  sheet.triangles.resize(2, 3);
  sheet.triangles << 0, 1, 2, 0, 2, 3;
  sheet.thickness = Eigen::VectorXd{{0.1, 0.1}};
  const auto bands = cut_sheet(sheet, {1, 0.2});
  ASSERT_EQ(bands.size(), 1U);
  EXPECT_NEAR(enclosed_area(bands[0]), 4 * 0.2, 1e-9);
}

TEST(SectionCut, ChoosesThePlaneAcrossTheBend) {
  const test::BentStrip strip = test::make_bent_strip(30, 10);
  const SectionPlane plane = choose_section(take_sheet(strip.formed));
  EXPECT_EQ(plane.axis, 1);
  EXPECT_DOUBLE_EQ(plane.at, 0);
}

TEST(SectionCut, StaysInsideAHalfModel) {
  test::BentStrip strip = test::make_bent_strip(30, 10);
  strip.formed.positions.col(1).array() += 25;  // y from 0 to 50
  const DrawnSheet sheet = take_sheet(strip.formed);
  const SectionPlane plane = choose_section(sheet);
  EXPECT_GT(plane.at, 0);
  EXPECT_LT(plane.at, 0.1);
  EXPECT_EQ(cut_sheet(sheet, plane).size(), 1U);
}

}  // namespace
}  // namespace halftool::io
