// Every case that the project ships: it checks, and the complete case that is printed says the same. A case
// whose blank is a drawing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>

#include "io/case/case.hpp"
#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"
#include "tests/io/drawing/dxf_text.hpp"

namespace halftool::test {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

/// The complete case without the remarks on what stood in the file.
std::string complete(const std::string& text, const fs::path& file) {
  return std::regex_replace(io::print_case(io::parse_case(text, file)), std::regex("  # (default|stock)"),
                            "");
}

class Cases : public Program {};

TEST_F(Cases, AllCheckAndPrintThemselvesCompleteWithoutSolving) {
  int n = 0;
  for (const auto& entry : fs::recursive_directory_iterator(SHIPPED_CASES)) {
    const fs::path file = entry.path();
    if (file.extension() != ".toml") continue;
    SCOPED_TRACE(file);
    const Answer answer = run({"check", file});
    EXPECT_EQ(answer.code, 0) << answer.err;
    EXPECT_EQ(complete(answer.out, file), complete(text_of(file), file));
    EXPECT_THAT(answer.out, HasSubstr("\n# Screens of the tool half against sheet and peak pressure: "));
    ++n;
  }
  EXPECT_GE(n, 4);
  EXPECT_TRUE(fs::is_empty(work()));
}

TEST_F(Cases, CheckScreensTheToolHalfAndPressCarriesIt) {
  std::string text = bracket("0.5 MPa", no_forming_limit);
  const std::string radius = "edge_radius = \"3 mm\"";
  text.replace(text.find(radius), radius.size(), radius + ", wall_angle = \"91.3 deg\"");
  const std::string kind = "kind = \"block\"\n";
  text.insert(text.find(kind), "material = \"invented alloy\"\nallowed_stress = \"10 MPa\"\n");
  write("case.toml", text);
  const Answer answer = run({"check", "case.toml"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  const std::string screens = answer.out.substr(answer.out.find("# Screens of the tool half"));
  EXPECT_THAT(screens, HasSubstr("6 of 6 screens run, 3 tripped\n"));
  EXPECT_THAT(screens, HasSubstr("lean 1.3 deg (limit 0.1 deg)\n"));
  // The block is 10 mm thick across and 35 mm high: 3 p (h/b)^2 is 18.4 MPa.
  EXPECT_THAT(screens, HasSubstr("wall at "));
  EXPECT_THAT(screens, HasSubstr("stress at its root 18.3"));
  EXPECT_THAT(screens, HasSubstr("b/h needed = 0.3873"));
  EXPECT_EQ(run({"press", "case.toml", "--out", "result"}).code, 0);
  const auto summary = nlohmann::json::parse(text_of(work() / "result" / "summary.json"));
  EXPECT_EQ(summary["tool"]["allowed_stress_mpa"], 10);
  ASSERT_EQ(summary["screens"].size(), 6U);
  EXPECT_EQ(summary["screens"][0]["findings"].size(), 2U);
  EXPECT_NEAR(summary["screens"][0]["findings"][0]["found"]["value"].get<double>(), 1.3, 1e-3);
}

class DrawnCase : public Program {
 protected:
  /// The strip of bracket() with its outline in a drawing.
  void write_case(const std::string& drawing, const std::string& symmetry = "planes = [\"x\", \"y\"]") {
    std::string text = bracket(pressure_, no_forming_limit);
    const std::string planes = "planes = [\"x\", \"y\"]";
    text.replace(text.find(planes), planes.size(), symmetry);
    const std::string outline = "rectangle = [\"92 mm\", \"10 mm\"]";
    write("case.toml", text.replace(text.find(outline), outline.size(), "drawing = \"strip.dxf\""));
    write("strip.dxf", drawing);
  }
  static constexpr const char* pressure_ = "0.5 MPa";  // the fold has begun
  const std::string strip_ = io::dxf::lwpolyline({{-46, -5}, {46, -5}, {46, 5}, {-46, 5}});
};

TEST_F(DrawnCase, CheckTellsWhatWasReadOfTheDrawing) {
  write_case(io::dxf::file(strip_ + io::dxf::circle(20, 0, 3) + io::dxf::circle(-20, 0, 3) +
                           io::dxf::start("TEXT")));
  const Answer answer = run({"check", "case.toml"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_THAT(answer.out, HasSubstr("drawing = \"strip.dxf\""));
  EXPECT_THAT(
      answer.out,
      HasSubstr("#   strip.dxf, drawn in mm\n#   curves: 2 CIRCLE, 1 POLYLINE\n#   ignored: 1 TEXT\n#   "
                "an outline with 2 holes: area 863.451 mm2, from (-46, -5) to (46, 5) mm\n"));
}

TEST_F(DrawnCase, IsPressedAsTheSameRectangle) {
  write_case(io::dxf::file(strip_));
  write("rectangle.toml", bracket(pressure_, no_forming_limit));
  const auto sheet_of = [&](const std::string& name) {
    const Answer answer = run({"press", name + ".toml", "--out", name + "-result"});
    EXPECT_EQ(answer.code, 0) << answer.err;
    return nlohmann::json::parse(text_of(work() / (name + "-result") / "summary.json"));
  };
  const auto drawn = sheet_of("case"), plain = sheet_of("rectangle");
  EXPECT_EQ(drawn["outcome"], "done");
  EXPECT_NEAR(drawn["flanges"][0]["formed_deg"].get<double>(),
              plain["flanges"][0]["formed_deg"].get<double>(), 0.5);
}

TEST_F(DrawnCase, IsRefusedAtItsKeyWithAllOtherMistakes) {
  write_case(io::dxf::file(strip_ + io::dxf::circle(0, 20, 3)));
  const Answer answer = run({"check", "case.toml"});
  EXPECT_EQ(answer.code, 2);
  EXPECT_THAT(answer.err,
              HasSubstr("case.toml:12  blank.drawing\n    found    a hole around (0, 20) lies outside the "
                        "outline\n    allowed  one closed outline and its holes\n    mend     move it "
                        "inside, or delete it\n"));
}

TEST_F(DrawnCase, SymmetryAndCoverAreCheckedAsForAnyOutline) {
  write_case(io::dxf::file(io::dxf::lwpolyline({{-46, -5}, {40, -5}, {40, 5}, {-46, 5}})));
  EXPECT_THAT(run({"check", "case.toml"}).err, HasSubstr("a blank that differs by 6 mm across x = 0"));
  write_case(io::dxf::file(io::dxf::lwpolyline({{-20, -5}, {20, -5}, {20, 5}, {-20, 5}})));
  EXPECT_THAT(run({"check", "case.toml"}).err, HasSubstr("10 mm of the tool along x with no sheet above it"));
}

TEST_F(DrawnCase, OffTheToolIsRefusedAsForAnyOutline) {
  write_case(io::dxf::file(io::dxf::lwpolyline({{-46, 95}, {46, 95}, {46, 105}, {-46, 105}})), "");
  const Answer answer = run({"check", "case.toml"});
  EXPECT_NE(answer.code, 0);
  EXPECT_THAT(answer.err, HasSubstr("the blank, from (-46  95) to ( 46 105) mm, does not lie over the tool"));
}

}  // namespace
}  // namespace halftool::test
