// One mistake a drawing, each with the message that it gives.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <ostream>

#include "io/drawing/blank_drawing.hpp"
#include "io/drawing/drawing_error.hpp"
#include "tests/io/drawing/dxf_text.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

struct Broken {
  std::string name;
  std::string text;
  std::string message;  ///< "key: found | allowed | mend"
  std::optional<std::string> layer = {};
  std::optional<std::string> unit = {};
};

void PrintTo(const Broken& broken, std::ostream* to) {
  *to << broken.name;
}

std::string message_of(const std::function<void()>& reading) {
  try {
    reading();
  } catch (const DrawingError& error) {
    const auto& [key, found, allowed, mend] = error.fault();
    return key + ": " + found + " | " + allowed + " | " + mend;
  }
  return "accepted";
}

constexpr const char* one_outline = " | one closed outline and its holes | ";
constexpr const char* anew = "save the drawing anew as DXF";

std::vector<Broken> broken() {
  using namespace dxf;
  const std::string good = file(rectangle(40, 30));
  const auto with = [](std::string text, const std::string& old, const std::string& now) {
    return text.replace(text.find(old), old.size(), now);
  };
  const std::string whole = std::string(" | whole curves | ") + anew;
  return {
      {"gap",
       file(line(0, 0, 12.4, 0) + line(12.4, 0, 12.4, 33) + line(12.4, 33.04, 0, 33.04) +
            line(0, 33.04, 0, 0)),
       std::string("drawing: the outline is open: gap 0.04 mm at (12.4, 33)") + one_outline +
           "close it in the drawing (gaps up to 0.01 mm are closed by themselves)"},
      {"branch", file(rectangle(40, 30) + line(40, 30, 50, 40)),
       std::string("drawing: more than two curves of the drawing end at (40, 30)") + one_outline +
           "an outline passes each point once: trim or delete what does not belong to it"},
      {"crossing", file(lwpolyline({{0, 0}, {20, 20}, {20, 0}, {0, 20}})),
       std::string("drawing: the outline crosses or touches itself at (10, 10)") + one_outline +
           "separate the two curves there in the drawing"},
      {"two_outlines", file(rectangle(40, 30) + circle(70, 15, 15)),
       std::string("drawing: the drawing has two outer loops, around (20, 15) and around (70, 15)") +
           one_outline + "keep one blank, or give its layer"},
      {"hole_outside", file(rectangle(40, 30) + circle(50, 15, 3)),
       std::string("drawing: a hole around (50, 15) lies outside the outline") + one_outline +
           "move it inside, or delete it"},
      {"hole_in_hole", file(rectangle(40, 30) + circle(20, 15, 8) + circle(21, 15, 3)),
       std::string("drawing: the loop around (21, 15) lies inside the hole around (20, 15)") + one_outline +
           "a blank is one piece: delete one of the two"},
      {"hole_over_edge", file(rectangle(40, 30) + circle(38, 15, 4)),
       std::string("drawing: two loops of the drawing cross or touch at (40, 18.464)") + one_outline +
           "the outline and its holes must stand apart"},
      {"empty", file(""),
       std::string("drawing: no curve of the drawing can be an outline") + one_outline +
           "draw a closed outline"},
      {"no_unit", file(rectangle(40, 30), 0),
       "length_unit: no length unit in the drawing | a drawing with its unit ($INSUNITS), or length_unit | "
       "write "
       "length_unit = \"mm\", or what the drawing is drawn in"},
      {"two_units",
       good,
       "length_unit: \"in\" for a drawing in mm | the unit that the drawing itself gives | leave length_unit "
       "out; if "
       "the drawing is wrong, correct its $INSUNITS",
       {},
       "in"},
      {"odd_unit", file(rectangle(40, 30), 3),
       "drawing: the length unit with the code 3 of $INSUNITS | mm, cm, dm, m, in, ft, yd or thou | set the "
       "unit of "
       "the drawing and save it anew"},
      {"no_layer", good,
       "layer: no curve on the layer \"cut\" | a layer with curves: 0 | give the layer that holds the "
       "outline, or "
       "leave it out",
       "cut"},
      {"tiny", file(rectangle(0.4, 0.3)),
       "drawing: a blank of 0.4 mm by 0.3 mm | a blank of 1 mm to 10000 mm | check the length unit of the "
       "drawing"},
      {"two_heights", file(with(rectangle(40, 30), " 31\n0\n", " 31\n5\n")),
       "drawing: curves at heights from 0 to 5 mm | a plane drawing | flatten the drawing to one height"},
      {"tilted",
       file(rectangle(40, 30) + circle(20, 15, 3) + group(210, 1.0) + group(220, 0.0) + group(230, 0.0)),
       "drawing: CIRCLE in a plane that is not parallel to xy | a plane drawing | turn the drawing into the "
       "xy plane, "
       "or flatten it"},
      {"no_dxf", "{\\rtf1 not a drawing}\nat all\n",
       std::string("drawing: a file that does not begin like DXF | a DXF file in text form | ") + anew},
      {"binary", "AutoCAD Binary DXF\r\n\x1a\n",
       "drawing: a DXF file in binary form | a DXF file in text form | save the drawing as DXF in text form "
       "(ASCII)"},
      {"cut_off", good.substr(0, good.size() - 8),
       "drawing: a DXF file that breaks off at line 100 | a DXF file with its end mark EOF | save or copy "
       "the "
       "drawing "
       "anew"},
      {"no_number", file(with(rectangle(40, 30), "\n40\n", "\n4O\n")),
       "drawing: LINE at line 20 has no number in line 34" + whole},
      {"missing_group", file(rectangle(40, 30) + start("CIRCLE") + group(10, 20) + group(20, 15)),
       "drawing: CIRCLE at line 100 has no group 40" + whole},
      {"vertices_missing",
       file(with(lwpolyline({{0, 0}, {20, 20}, {20, 0}}), " 90\n3\n", " 90\n900000000\n")),
       "drawing: LWPOLYLINE at line 20 is to have 900000000 vertices and has 3" + whole},
      {"spline_by_points",
       file(start("SPLINE") + group(71, 3) + group(73, 0) + group(74, 1) + group(11, 1) + group(21, 1)),
       "drawing: SPLINE at line 20 is given by the points that it passes through and not by control points | "
       "whole "
       "curves | convert it to a spline with control points, or to arcs and lines"},
      {"spline_knots", file(spline(2, {0, 0, 1, 1, 1}, {{0, 0}, {20, 30}, {40, 0}})),
       std::string("drawing: a spline has 5 knots for 3 control points of degree 2") + one_outline +
           "draw it anew, or convert it to arcs and lines"},
      {"smoothed", file(polyline({{0, 0}, {20, 20}, {20, 0}}, 1 | 4)),
       "drawing: a polyline that the drawing program smooths | curves that say their shape | explode the "
       "polyline, or "
       "convert it to a spline"},
  };
}

class BrokenDrawing : public testing::TestWithParam<Broken> {};

TEST_P(BrokenDrawing, IsRefusedWithItsMessage) {
  const Broken& broken = GetParam();
  EXPECT_EQ(message_of([&] {
              read_blank_drawing(broken.text, {"", broken.layer, broken.unit}, "blank.dxf");
            }),
            broken.message);
}
INSTANTIATE_TEST_SUITE_P(Corpus, BrokenDrawing, testing::ValuesIn(broken()),
                         [](const auto& one) { return one.param.name; });

TEST(DrawingFile, MustBeThereAndBeOfItsKind) {
  EXPECT_EQ(message_of([] {
              read_blank_drawing({"part.dwg", {}, {}});
            }),
            "drawing: \"part.dwg\" | a DXF file, .dxf | export the blank as DXF");
  EXPECT_EQ(message_of([] {
              read_blank_drawing({"nowhere/part.dxf", {}, {}});
            }),
            "drawing: no file \"nowhere/part.dxf\" | a path relative to the case file | check the path");
  EXPECT_EQ(message_of([] { read_blank_face({"part.iges"}, 1); }),
            "step: \"part.iges\" | a STEP file, .step or .stp | export the blank as STEP");
  const halftool::test::ScratchFolder folder;
  const auto file = folder.path() / "no_part.step";
  std::ofstream(file) << "no STEP file\n";
  EXPECT_EQ(message_of([&] { read_blank_face({file.string()}, 1); }),
            "step: the STEP file cannot be read | one closed outline and its holes | export it anew as STEP "
            "(ISO 10303)");
}

}  // namespace
}  // namespace halftool::io
