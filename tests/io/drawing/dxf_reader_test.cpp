#include "io/drawing/dxf_reader.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mesh/nest_loops.hpp"
#include "tests/io/drawing/dxf_text.hpp"

namespace halftool::io {
namespace {

constexpr double pi = std::numbers::pi;
const double quarter = std::tan(pi / 8);  // bulge of a quarter turn

/// Area inside the outline less that of the holes.
double area_of(const std::string& entities) {
  std::vector<mesh::PlaneCurve> curves;
  for (const auto& entity : read_dxf(dxf::file(entities)).entities)
    curves.insert(curves.end(), entity.curves.begin(), entity.curves.end());
  const mesh::DrawnOutline outline = mesh::chain_curves(curves);
  double area = mesh::area_of(outline.outer);
  for (const auto& hole : outline.holes) area -= mesh::area_of(hole);
  return area;
}

TEST(ReadDxf, EveryKindOfCurveGivesTheAreaOfItsClosedForm) {
  EXPECT_NEAR(area_of(dxf::rectangle(40, 30)), 1200, 1e-9);
  EXPECT_NEAR(area_of(dxf::circle(3, 4, 10)), 100 * pi, 1e-9);
  EXPECT_NEAR(area_of(dxf::ellipse(3, 4, 6, 8, 0.3)), 30 * pi, 1e-9);
  // A half circle on a line, as arc, as ellipse over the seam, as bulge, as old polyline.
  EXPECT_NEAR(area_of(dxf::arc(0, 0, 10, 270, 90) + dxf::line(0, -10, 0, 10)), 50 * pi, 1e-9);
  EXPECT_NEAR(area_of(dxf::ellipse(0, 0, 10, 0, 0.5, 1.5 * pi, 0.5 * pi) + dxf::line(0, -5, 0, 5)), 25 * pi,
              1e-9);
  EXPECT_NEAR(area_of(dxf::lwpolyline({{0, -10, 1}, {0, 10}})), 50 * pi, 1e-9);
  EXPECT_NEAR(area_of(dxf::polyline({{0, -10, 1}, {0, 10, 0}})), 50 * pi, 1e-9);
  EXPECT_NEAR(area_of(dxf::lwpolyline({{0, -10, 1}, {0, 10}}, false) + dxf::line(0, -10, 0, 10)), 50 * pi,
              1e-9);
}

TEST(ReadDxf, BulgesRoundAndHollowCorners) {
  // 40 by 30, three quarter circles of 5 outward round, one hollow.
  const std::string text = dxf::lwpolyline({{5, 0},
                                            {35, 0, quarter},
                                            {40, 5},
                                            {40, 25, quarter},
                                            {35, 30},
                                            {5, 30, quarter},
                                            {0, 25},
                                            {0, 5, -quarter}});
  EXPECT_NEAR(area_of(text), 1200 - 3 * (1 - pi / 4) * 25 - pi / 4 * 25, 1e-9);
}

TEST(ReadDxf, SplinesWithAndWithoutWeights) {
  // A parabola over its chord: a Bezier curve of degree 2 encloses 2/3 of its control triangle.
  EXPECT_NEAR(
      area_of(dxf::spline(2, {0, 0, 0, 1, 1, 1}, {{0, 0}, {20, 30}, {40, 0}}) + dxf::line(0, 0, 40, 0)),
      2.0 / 3 * 0.5 * 40 * 30, 1e-9);
  // A quarter circle as a rational curve (Piegl and Tiller, The NURBS Book, 1997, section 7.3).
  EXPECT_NEAR(
      area_of(dxf::spline(2, {0, 0, 0, 1, 1, 1}, {{10, 0}, {10, 10}, {0, 10}}, {1, std::sqrt(0.5), 1}) +
              dxf::line(0, 10, 0, 0) + dxf::line(0, 0, 10, 0)),
      25 * pi, 1e-9);
}

TEST(ReadDxf, CurvesSeenFromBelowAreMirrored) {
  const std::string down = dxf::group(210, 0.0) + dxf::group(220, 0.0) + dxf::group(230, -1.0);
  // Half circles whose own x runs against the world's: they bulge towards -x.
  for (const std::string& half :
       {dxf::arc(0, 0, 10, 270, 90) + down, dxf::lwpolyline({{0, -10, 1}, {0, 10}}, false) + down}) {
    const DxfDrawing drawing = read_dxf(dxf::file(half));
    const auto& arc = std::get<mesh::ArcCurve>(drawing.entities.at(0).curves.at(0));
    EXPECT_NEAR(arc.centre.norm(), 0, 1e-12);
    EXPECT_NEAR(std::cos(arc.from + arc.sweep / 2), -1, 1e-12);
  }
  const DxfDrawing ring = read_dxf(dxf::file(dxf::circle(7, 2, 3) + down));
  EXPECT_NEAR(std::get<mesh::ArcCurve>(ring.entities.at(0).curves.at(0)).centre.x(), -7, 1e-12);
  // The parameter of an ellipse runs the other way round.
  const auto part = read_dxf(dxf::file(dxf::ellipse(0, 0, 10, 0, 0.5, 0, pi / 2) + down));
  const auto& spline = std::get<mesh::SplineCurve>(part.entities.at(0).curves.at(0));
  EXPECT_LT((spline.points.back() - Eigen::Vector2d(0, -5)).norm(), 1e-12);
}

TEST(ReadDxf, LayersAndWhatIsIgnored) {
  const std::string tables =
      dxf::group(0, "TABLE") + dxf::group(2, "LAYER") + dxf::group(70, 3) + dxf::group(0, "LAYER") +
      dxf::group(2, "cut") + dxf::group(70, 0) + dxf::group(62, 7) + dxf::group(0, "LAYER") +
      dxf::group(2, "off") + dxf::group(70, 0) + dxf::group(62, -7) + dxf::group(0, "LAYER") +
      dxf::group(2, "cold") + dxf::group(70, 1) + dxf::group(62, 7) + dxf::group(0, "ENDTAB");
  const std::string others = dxf::start("TEXT") + dxf::group(1, std::string(5000, 'x')) +
                             dxf::start("POINT") + dxf::start("DIMENSION") + dxf::start("INSERT") +
                             dxf::start("INSERT") + dxf::line(0, 0, 1, 1) + dxf::group(67, 1) +
                             dxf::line(0, 0, 1, 1) + dxf::group(60, 1);
  const DxfDrawing drawing = read_dxf(dxf::file(dxf::circle(0, 0, 5, "cut") + others, 1, tables));
  EXPECT_EQ(drawing.layers, (std::map<std::string, bool>{{"cut", false}, {"off", true}, {"cold", true}}));
  EXPECT_EQ(drawing.ignored, (std::map<std::string, int>{
                                 {"TEXT", 1}, {"POINT", 1}, {"DIMENSION", 1}, {"INSERT", 2}, {"LINE", 2}}));
  EXPECT_EQ(drawing.unit, 1);
  ASSERT_EQ(drawing.entities.size(), 1U);
  EXPECT_EQ(drawing.entities[0].layer, "cut");
}

TEST(ReadDxf, CurvesOfBlocksAreNotTaken) {
  const std::string block =
      dxf::section("BLOCKS", dxf::group(0, "BLOCK") + dxf::line(0, 0, 9, 9) + dxf::group(0, "ENDBLK"));
  const DxfDrawing drawing = read_dxf(block + dxf::file(dxf::circle(0, 0, 5)));
  EXPECT_EQ(drawing.entities.size(), 1U);
}

TEST(ReadDxf, PrintsNothing) {
  testing::internal::CaptureStdout();
  testing::internal::CaptureStderr();
  read_dxf(dxf::file(dxf::rectangle(40, 30) + dxf::polyline({{0, -10, 1}, {0, 10, 0}}) +
                     dxf::spline(2, {0, 0, 0, 1, 1, 1}, {{0, 0}, {20, 30}, {40, 0}}) +
                     dxf::ellipse(3, 4, 6, 8, 0.3)));
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

}  // namespace
}  // namespace halftool::io
