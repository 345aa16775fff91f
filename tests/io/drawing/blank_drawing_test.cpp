#include "io/drawing/blank_drawing.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "io/case/quantity.hpp"
#include "io/drawing/drawing_error.hpp"
#include "io/drawing/length_units.hpp"
#include "tests/io/drawing/dxf_text.hpp"

namespace halftool::io {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;

constexpr double pi = std::numbers::pi;

mesh::DrawnOutline read(const std::string& text, const std::optional<std::string>& layer = {},
                        const std::optional<std::string>& unit = {}) {
  return read_blank_drawing(text, {"", layer, unit}, "blank.dxf");
}

TEST(BlankDrawing, SaysWhatWasRead) {
  const auto outline = read(dxf::file(dxf::rectangle(40, 30) + dxf::circle(10, 10, 3) + dxf::start("TEXT")));
  EXPECT_EQ(outline.holes.size(), 1U);
  EXPECT_THAT(outline.facts, Contains("blank.dxf, drawn in mm"));
  EXPECT_THAT(outline.facts, Contains("curves: 1 CIRCLE, 4 LINE"));
  EXPECT_THAT(outline.facts, Contains("ignored: 1 TEXT"));
  EXPECT_THAT(outline.facts,
              Contains("an outline with 1 hole: area 1171.73 mm2, from (0, 0) to (40, 30) mm"));
  EXPECT_TRUE(outline.doubts.empty());
}

TEST(BlankDrawing, EveryUnitOfACaseMeasuresADrawing) {
  for (const auto& unit : units_of(Dimension::length)) {
    ASSERT_TRUE(length_unit(unit)) << unit;
    EXPECT_NEAR(length_unit(unit)->in_mm / parse_quantity("1 " + unit, Dimension::length).value.value(), 1,
                1e-15);
  }
}

TEST(BlankDrawing, UnitsComeFromTheHeaderOrFromTheCase) {
  const double area = 25.4 * 25.4 * (12 - 0.25 * pi);
  const std::string inches = dxf::rectangle(4, 3) + dxf::circle(2, 1, 0.5);
  EXPECT_NEAR(mesh::area_of(read(dxf::file(inches, 1)).outer), 12 * 25.4 * 25.4, 1e-8);
  for (const auto& outline : {read(dxf::file(inches, 0), {}, "in"), read(dxf::file(inches, 1), {}, "in")})
    EXPECT_NEAR(mesh::area_of(outline.outer) - mesh::area_of(outline.holes.at(0)), area, 1e-8);
  EXPECT_THAT(read(dxf::file(inches, 0), {}, "in").facts,
              Contains("blank.dxf, drawn in in as the case says"));
}

std::string mend_of(const std::string& text) {
  try {
    read(text);
  } catch (const DrawingError& error) {
    return error.fault().mend;
  }
  return "accepted";
}

// Centre lines, bend lines and dimensions of a drawing lie on layers of their own.
TEST(BlankDrawing, ARefusalNamesTheLayersAndTheOneThatGivesAnOutline) {
  const std::string lines = dxf::rectangle(40, 30, "cut") + dxf::line(20, -5, 20, 35, "centre");
  EXPECT_THAT(mend_of(dxf::file(lines)),
              HasSubstr("; curves were taken from the layers centre (1), cut (4): layer = \"cut\" takes an "
                        "outline from that one alone"));
  EXPECT_THAT(mend_of(dxf::file(dxf::line(0, 0, 5, 0))), Not(HasSubstr("layer")));
  const auto blocks = mend_of(dxf::file(dxf::line(0, 0, 5, 0) + dxf::start("INSERT")));
  EXPECT_THAT(blocks, HasSubstr("; 1 block reference not read: explode what belongs to the outline"));
}

// The frame of a sheet of paper is an outline, too, and the blank in it a hole.
TEST(BlankDrawing, ABlankInAFrameOnAnotherLayerIsADoubt) {
  const std::string blank = dxf::circle(20, 15, 8, "cut");
  EXPECT_THAT(read(dxf::file(dxf::rectangle(40, 30, "frame") + blank)).doubts,
              Contains(HasSubstr("cut and frame; if one of them is a drawing frame")));
  EXPECT_TRUE(read(dxf::file(dxf::rectangle(40, 30, "cut") + blank)).doubts.empty());
  // two holes are no blank in a frame
  EXPECT_TRUE(
      read(dxf::file(dxf::rectangle(40, 30, "frame") + blank + dxf::circle(36, 4, 2, "cut"))).doubts.empty());
}

TEST(BlankDrawing, OnlyTheGivenLayerOrThoseThatAreOn) {
  const std::string tables = dxf::group(0, "TABLE") + dxf::group(2, "LAYER") + dxf::group(70, 1) +
                             dxf::group(0, "LAYER") + dxf::group(2, "aid") + dxf::group(70, 1) +
                             dxf::group(62, 7) + dxf::group(0, "ENDTAB");
  const std::string both = dxf::rectangle(40, 30, "cut") + dxf::circle(10, 10, 3, "aid");
  EXPECT_EQ(read(dxf::file(both)).holes.size(), 1U);
  EXPECT_TRUE(read(dxf::file(both, 4, tables)).holes.empty());
  EXPECT_TRUE(read(dxf::file(both), "cut").holes.empty());
  EXPECT_THAT(read(dxf::file(both), "cut").facts, Contains(HasSubstr("left out: 1 curve on other layers")));
  EXPECT_NEAR(mesh::area_of(read(dxf::file(both, 4, tables), "aid").outer), 9 * pi,
              1e-9);  // asked for by name
}

TEST(BlankDrawing, BlockReferencesAreADoubt) {
  EXPECT_THAT(read(dxf::file(dxf::rectangle(40, 30) + dxf::start("INSERT"))).doubts,
              Contains(HasSubstr("1 block reference not read; explode")));
}

// The heel of a shipped case is no blank: its planar face is taken, and doubted unless the sheet is as thick.
TEST(BlankFace, OfMoreThanAPlateIsADoubt) {
  const std::string heel = std::string(HALFTOOL_CASES) + "/dish_then_flange/heel.step";
  const auto outline = read_blank_face({heel}, 1.27);
  ASSERT_EQ(outline.doubts.size(), 1U);
  EXPECT_THAT(outline.doubts.front(), HasSubstr("times the sheet's thickness; look whether"));
  EXPECT_TRUE(read_blank_face({heel}, 100).doubts.empty());
}

TEST(BlankDrawing, MirroredDrawingKeepsItsAreaAndMirrorsItsPlace) {
  const std::string slot = dxf::lwpolyline({{10, -5}, {50, -5, 1}, {50, 5}, {10, 5, 1}});
  const std::string mirrored = slot + dxf::group(210, 0.0) + dxf::group(220, 0.0) + dxf::group(230, -1.0);
  const auto a = read(dxf::file(slot)), b = read(dxf::file(mirrored));
  EXPECT_NEAR(mesh::area_of(a.outer), 400 + 25 * pi, 1e-9);
  EXPECT_NEAR(mesh::area_of(b.outer), 400 + 25 * pi, 1e-9);
  Eigen::Vector2d low = b.outer.front().start, high = low;
  mesh::grow_box(b.outer, low, high);
  EXPECT_LT((low - Eigen::Vector2d(-55, -5)).norm() + (high - Eigen::Vector2d(-5, 5)).norm(), 1e-9);
}

}  // namespace
}  // namespace halftool::io
