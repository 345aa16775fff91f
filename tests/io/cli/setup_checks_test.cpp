#include "io/cli/setup_checks.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/cli/job_summary.hpp"
#include "io/cli/press_job.hpp"
#include "io/cli/size_checks.hpp"
#include "tests/support/cuboids.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::io {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;

/// A sheet of 1 mm over a block of 30 by 8 mm, 15 mm high.
Case block_case(const std::string& blank, const std::string& more = "") {
  return parse_case(R"([sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift = { strength = "530 MPa", pre_strain = 0.01, exponent = 0.26 } }
[tool]
kind = "block"
block = { length = "30 mm", width = "8 mm", height = "15 mm", edge_radius = "3 mm" }
[lubrication]
tool_side = { mu = 0.1 }
[[step]]
pressure = "60 MPa"
)" + more + "[blank]\n" +
                        blank,
                    "demo.toml");
}

std::string trim_refusal(const std::string& line) {
  const Case job = block_case("rectangle = [\"50 mm\", \"8 mm\"]\n", "[[trim]]\n" + line + "\n");
  try {
    refuse_unmet_trims(job, make_tools(job, true));
  } catch (const CaseError& error) {
    return error.what();
  }
  return "none";
}

TEST(RefuseUnmetTrims, OfALineAboveThePart) {
  EXPECT_EQ(trim_refusal(R"(along = "x"
polygon = [["-9 mm", "-1 mm"], ["9 mm", "-1 mm"], ["9 mm", "1 mm"], ["-9 mm", "1 mm"]])"),
            "none");
  EXPECT_EQ(
      trim_refusal(R"(along = "x"
polygon = [["-9 mm", "117 mm"], ["9 mm", "127 mm"], ["9 mm", "160 mm"], ["-9 mm", "160 mm"]])"),
      "demo.toml:13  trim[1].polygon\n"
      "    found    a trim line from (-9, 117) to (9, 160)\n"
      "    allowed  a line across the formed part, in (y, z) from (-4, 0) to (4, 16)\n"
      "    mend     draw it in the tool's frame: z is the press axis, as the tool half stands on the tray");
  EXPECT_THAT(trim_refusal(R"(along = "y"
polygon = [["26 mm", "1 mm"], ["30 mm", "1 mm"], ["30 mm", "9 mm"]])"),
              HasSubstr("in (x, z) from (-25, 0) to (25, 16)"));
}

// The part lies from (-4, 0) to (4, 16) in (y, z).
TEST(RefuseUnmetTrims, OfALineRoundThePart) {
  const std::string round = R"(along = "x"
polygon = [["-9 mm", "-1 mm"], ["9 mm", "-1 mm"], ["9 mm", "17 mm"], ["-9 mm", "17 mm"]])";
  EXPECT_EQ(
      trim_refusal(round),
      "demo.toml:13  trim[1].polygon\n"
      "    found    a trim line from (-9, -1) to (9, 17) that cuts nothing off\n"
      "    allowed  a line across the formed part, in (y, z) from (-4, 0) to (4, 16)\n"
      "    mend     draw it across the part, in the tool's frame; as it lies it does not meet the part");
  EXPECT_THAT(trim_refusal(round + "\nkeep = \"outside\""), HasSubstr("to (9, 17) that leaves nothing\n"));
}

std::string zone(double x0, double x1, double y0, double y1, double mu = 0.2) {
  return fmt::format(
      "[[lubrication.zone]]\nmu = {4}\npolygon = [[\"{0} mm\", \"{2} mm\"], [\"{1} mm\", \"{2} mm\"], "
      "[\"{1} mm\", \"{3} mm\"], [\"{0} mm\", \"{3} mm\"]]\n",
      x0, x1, y0, y1, mu);
}

const std::string wide_sheet = "rectangle = [\"50 mm\", \"40 mm\"]\n";

/// What reading says of zones on a blank of 50 by 40 mm of which a quarter is computed.
std::string said_of_zones(const std::string& zones, const std::string& more = "") {
  const std::string planes = "[symmetry]\nplanes = [\"x\", \"y\"]\n";
  try {
    return print_problems(block_case(wide_sheet + more, zones + planes).warnings);
  } catch (const CaseError& error) {
    return error.what();
  }
}

TEST(Zones, AreThoseOfASymmetricPart) {
  EXPECT_EQ(said_of_zones(zone(-9, 9, -7, 7)), "");
  EXPECT_EQ(said_of_zones(zone(-99, 60, -30, 40)), "");  // on the sheet it is all of it
  EXPECT_EQ(said_of_zones(zone(5, 9, -7, 7) + zone(-9, -5, -7, 7)), "");
  EXPECT_THAT(said_of_zones(zone(5, 9, -7, 7) + zone(-9, -5, -7, 7, 0.1)),
              HasSubstr("a zone from (-9, -7) to (-5, 7) on the side x < 0, which is not computed"));
  EXPECT_THAT(said_of_zones(zone(5, 9, -7, 7)), HasSubstr("differs by 14 mm across x = 0"));
  EXPECT_THAT(said_of_zones(zone(-9, 9, -7, -2)), HasSubstr("on the side y < 0, which is not computed"));
}

// The blank is turned by a quarter: its own x is the tool's y.
TEST(Zones, LieInTheBlanksOwnFrame) {
  EXPECT_EQ(said_of_zones(zone(-24, 24, 5, 9) + zone(-24, 24, -9, -5), "turn = \"90 deg\"\n"), "");
  EXPECT_THAT(said_of_zones(zone(-24, 24, -9, -5), "turn = \"90 deg\"\n"), HasSubstr("across x = 0"));
  EXPECT_THAT(said_of_zones(zone(-24, 24, 5, 9), "turn = \"90 deg\"\n"), HasSubstr("on the side x < 0"));
}

TEST(Zones, ThatCoverNothingAreWarnedOfAndNotCredited) {
  const std::string mirrored = "[symmetry]\nplanes = [\"x\", \"y\"]\n";
  const Case job =
      block_case(wide_sheet, zone(-9, 9, -7, 7) + zone(-0.01, 0.01, -0.01, 0.01, 0.15) +
                                 zone(-4, 4, -4, 4, 0.05) + zone(-10, 10, -8, 8, 0.12) + mirrored);
  const auto setup = make_setup(job);
  const std::vector<CaseWarning> doubts = zone_doubts(job, setup.blank);
  ASSERT_EQ(doubts.size(), 3U);
  EXPECT_EQ(doubts.at(1).key, "lubrication.zone[2].polygon");
  EXPECT_EQ(doubts.at(1).found, "a zone that no triangle of the blank belongs to");
  EXPECT_THAT(start_summary(job, setup.blank, *setup.tools).credential,
              HasSubstr("friction 0.10, 0.12 in a zone, assumed as given"));

  const Case pair = block_case(wide_sheet, zone(5, 9, -7, 7) + zone(-9, -5, -7, 7) + mirrored);
  EXPECT_TRUE(zone_doubts(pair, setup.blank).empty());
}

std::string doubts_of(const Case& job) {
  return print_problems(setup_doubts(job, make_tools(job, true)));
}

std::string pinned(const std::string& x, double pin = 3.9) {
  return fmt::format(
      "[[blank.hole]]\nat = [\"{0} mm\", \"0 mm\"]\ndiameter = \"4 mm\"\n"
      "[[blank.pin]]\nat = [\"{0} mm\", \"0 mm\"]\ndiameter = \"{1} mm\"\n",
      x, pin);
}

/// Of a block of any size under any blank.
std::string step_doubts(const std::string& blank, double length) {
  Case job = block_case(blank);
  mesh::ToolSpec spec;
  spec.shape = mesh::StraightBlock{length, 0.4 * length, 0.3 * length, 0.05 * length};
  ToolSet set;
  set.tools.push_back(mesh::make_tool(spec));
  set.of_step = {0};
  job.tool.shape = mesh::StepShape{};  // as if it came from a file
  return print_problems(size_doubts(job, set));
}

TEST(SizeDoubts, OfUnitsThatWereMixed) {
  EXPECT_EQ(step_doubts("rectangle = [\"100 mm\", \"24 mm\"]\n", 60), "");
  EXPECT_THAT(step_doubts("rectangle = [\"100 mm\", \"24 mm\"]\n", 60000),
              AllOf(HasSubstr("a tool half of 6e+04 x"), HasSubstr("usually 5 mm to 5 m")));
  EXPECT_THAT(step_doubts("rectangle = [\"2540 mm\", \"24 mm\"]\n", 60),
              AllOf(HasSubstr("a blank 42.3 times as large as the tool half"), HasSubstr("inches")));
  EXPECT_THAT(step_doubts("rectangle = [\"4 mm\", \"3 mm\"]\n", 60), HasSubstr("a blank 0.0667 times"));
}

TEST(SetupDoubts, OfAPinInTheAir) {
  const std::string sheet = "rectangle = [\"60 mm\", \"8 mm\"]\n";
  EXPECT_EQ(doubts_of(block_case(sheet + pinned("-9") + pinned("9"))), "");
  EXPECT_EQ(
      doubts_of(block_case(sheet + pinned("9") + pinned("-25"))),
      "demo.toml:23  blank.pin[2].at\n"
      "    found    a pin at (-25, 0) mm with nothing of the tool half under it\n"
      "    allowed  a pin that stands on the tool half\n"
      "    mend     nothing holds it there, and in the computation it keeps back sheet that folds down: "
      "move pin and hole over the tool half");
}

// A flange of 13 mm is folded down from the flat blank, and no longer lies beyond the wall.
TEST(SetupDoubts, OfALineOverTheFlatBlankOnly) {
  const auto said = [](const std::string& low, const std::string& high) {
    return doubts_of(
        block_case("rectangle = [\"56 mm\", \"8 mm\"]\n",
                   fmt::format("[[trim]]\nkeep = \"outside\"\npolygon = [[\"{0} mm\", \"-2 mm\"], "
                               "[\"{1} mm\", \"-2 mm\"], [\"{1} mm\", \"2 mm\"]]\n",
                               low, high)));
  };
  EXPECT_EQ(said("13", "20"), "");
  EXPECT_EQ(said("15.9", "20"), "");
  EXPECT_EQ(
      said("17", "20"),
      "demo.toml:13  trim[1].polygon\n"
      "    found    a trim line from (17, -2) to (20, 2), beside the tool half\n"
      "    allowed  a line where the formed sheet lies; the tool half reaches from (-16, -5) to (16, 5), "
      "with the sheet on its walls\n"
      "    mend     sheet that is folded down no longer lies out there: look where the formed part lies, "
      "and draw the line across it");
}

// The block's top is flat from x = -12 to 12, and within a micrometre of its level for 0.08 mm more.
TEST(SetupDoubts, OfABlankThatTips) {
  EXPECT_EQ(doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"11 mm\", \"0 mm\"]\n")), "");
  const std::string tips =
      doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"18 mm\", \"0 mm\"]\n"));
  EXPECT_THAT(tips, HasSubstr("demo.toml:13  blank.place\n"));
  EXPECT_THAT(tips, HasSubstr("centroid, at (18, 0) mm, lies 5.94 mm outside of all that it rests on"));
  // A hole moves the centroid.
  EXPECT_EQ(doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"12 mm\", \"0 mm\"]\n")), "");
  EXPECT_THAT(doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"12 mm\", \"0 mm\"]\n"
                                   "hole = [{ at = [\"-20 mm\", \"0 mm\"], diameter = \"6 mm\" }]\n")),
              HasSubstr("tips"));
}

ToolSet one_tool(mesh::ToolSurface tool) {
  ToolSet set;
  set.tools.push_back(std::move(tool));
  set.of_step = {0};
  return set;
}

TEST(SetupDoubts, OfABlankOnATip) {
  const Case job = block_case("rectangle = [\"50 mm\", \"40 mm\"]\n");
  const auto cap = [](double u, double v) {
    const Eigen::Vector3d normal = Eigen::Vector3d(u - 0.5, v - 0.5, 1).normalized();
    return halftool::testing::SurfacePoint{20 * normal, normal};
  };
  EXPECT_EQ(
      print_problems(setup_doubts(job, one_tool(halftool::testing::tool_over_square(8, 8, 0, cap)))),
      "demo.toml:12  blank.rectangle\n"
      "    found    a blank that rests on a tip of the tool half alone, at (0, 0) mm\n"
      "    allowed  a blank that the tool half supports on all sides of its centroid\n"
      "    mend     it rocks until the pressure presses it down, in the computation too: support it, or "
      "move it");
}

std::string tool_refusal(const Case& job) {
  try {
    (void)make_tools(job, true);
  } catch (const CaseError& error) {
    return error.what();
  }
  return "none";
}

TEST(MakeTools, NamesTheKeyOfWhatCannotBeBuilt) {
  Case job = read_case(std::string(HALFTOOL_CASES) + "/dish_then_flange/case.toml");
  auto& insert = std::get<mesh::StepShape>(job.inserts.front().shape);
  insert.placement.place.x() -= 5;
  const std::string overlapping = tool_refusal(job);
  EXPECT_THAT(overlapping,
              AllOf(HasSubstr("case.toml:26  tool.insert[1].step\n    found    shape from heel.step "
                              "overlaps the tool by "),
                    HasSubstr("\n    mend     move it, or cut its seat out of the tool half")));
  insert.path += ".missing";
  EXPECT_THAT(tool_refusal(job), HasSubstr("tool.insert[1].step\n    found    there is no STEP file"));
  std::get<mesh::StepShape>(job.tool.shape).path += ".missing";
  EXPECT_THAT(tool_refusal(job), HasSubstr("  tool.step\n    found    there is no STEP file"));
}

TEST(RefuseBlankOffTool, NamesItsKey) {
  const Case job = block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"90 mm\", \"0 mm\"]\n");
  try {
    refuse_blank_off_tool(job, make_tools(job, true));
    FAIL() << "a blank beside the tool half is to be refused";
  } catch (const CaseError& error) {
    EXPECT_THAT(error.what(), HasSubstr("demo.toml:13  blank.place\n    found    the blank, from "));
  }
}

TEST(SetupDoubts, OfAnInsertBesideTheBlank) {
  Case job = read_case(std::string(HALFTOOL_CASES) + "/dish_then_flange/case.toml");
  const ToolSet set = one_tool(halftool::testing::tool_over_square(1, 1, 0, [](double u, double v) {
    return halftool::testing::SurfacePoint{{1000 * u - 500, 1000 * v - 500, 50}, Eigen::Vector3d::UnitZ()};
  }));
  EXPECT_EQ(print_problems(setup_doubts(job, set)), "");
  std::get<mesh::StepShape>(job.inserts.front().shape).placement.place.x() += 500;
  EXPECT_THAT(print_problems(setup_doubts(job, set)),
              AllOf(HasSubstr("case.toml:26  tool.insert[1].step\n"), HasSubstr("found    an insert from ("),
                    HasSubstr(", beside the blank\n    allowed  an insert under the blank, from ("),
                    HasSubstr("check its place, in mm in the tool's frame")));
}

/// What is said of a cuboid tool half, 15 mm high, under a sheet of which x >= 0, y >= 0 is computed.
std::string said_of(const Eigen::Vector2d& low, const Eigen::Vector2d& high) {
  const Case job =
      block_case("rectangle = [\"50 mm\", \"40 mm\"]\n", "[symmetry]\nplanes = [\"x\", \"y\"]\n");
  const ToolSet set =
      one_tool(halftool::testing::tool_of({{{low.x(), low.y(), 0}, {high.x(), high.y(), 15}}}));
  try {
    refuse_asymmetric_tools(job, set);
  } catch (const CaseError& error) {
    return error.what();
  }
  return print_problems(symmetry_doubts(job, set));
}

TEST(RefuseAsymmetricTools, ThatAreNotTheirOwnMirrorImageUnderTheSheet) {
  EXPECT_EQ(said_of({-12, -30}, {12, 30}), "");
  EXPECT_EQ(said_of({-12, -30}, {12, 40}), "");  // the sheet ends at y = 20
  EXPECT_THAT(
      said_of({-12, -10}, {17, 10}),
      AllOf(HasSubstr("demo.toml:12  symmetry.planes\n"
                      "    found    a tool half that differs by 5 mm across x = 0, at (17, "),
            HasSubstr("    allowed  planes across which the tool half under the sheet is the same on "
                      "both sides, to 0.05 mm\n"
                      "    mend     place the tool half so that its middle lies at x = 0, or leave this "
                      "plane out and compute the whole")));
  const std::string both = said_of({-12, -7}, {12.1, 10});
  EXPECT_THAT(both,
              AllOf(HasSubstr("differs by 0.1 mm across x = 0"), HasSubstr("differs by 3 mm across y = 0")));
  EXPECT_EQ(said_of({-12, -10}, {12.04, 10}), "");
}

TEST(RefuseAsymmetricTools, ButNotAHalfOrAQuarterOfATool) {
  EXPECT_EQ(said_of({0, -10}, {12, 10}), "");
  EXPECT_EQ(said_of({0, 0}, {12, 10}), "");
  EXPECT_EQ(
      said_of({-2, -10}, {12, 10}),
      "demo.toml:12  symmetry.planes\n"
      "    found    a tool half that reaches 2 mm beyond x = 0\n"
      "    allowed  a whole tool half, or one that is cut at the plane\n"
      "    mend     it is taken for a half of the tool, of which x >= 0 counts: look whether it stands in "
      "its place");
  EXPECT_THAT(said_of({3, -10}, {12, 10}), HasSubstr("a tool half that begins 3 mm behind x = 0"));
  EXPECT_THAT(said_of({-4, -10}, {12, 10}), HasSubstr("differs by 8 mm across x = 0"));
  EXPECT_THAT(said_of({-12, -10}, {0, 10}), HasSubstr("across x = 0, at (-12, "));
}

TEST(RefuseAsymmetricTools, AndNamesTheStep) {
  const Case job = block_case("rectangle = [\"50 mm\", \"40 mm\"]\n",
                              "name = \"first\"\n[[step]]\npressure = \"70 MPa\"\nname = \"second\"\n"
                              "[symmetry]\nplanes = [\"x\"]\n");
  const halftool::testing::Cuboid whole{{-12, -10, 0}, {12, 10, 15}};
  ToolSet set = one_tool(halftool::testing::tool_of({whole}));
  set.tools.push_back(halftool::testing::tool_of({whole, {{-2, -2, 15}, {-1, 2, 16}}}));
  set.of_step = {0, 1};
  try {
    refuse_asymmetric_tools(job, set);
    FAIL() << "a heel on one side is to be refused";
  } catch (const CaseError& error) {
    EXPECT_EQ(error.problems().size(), 1U);
    EXPECT_THAT(error.what(), HasSubstr("a tool half of step \"second\" that differs by 1 mm across x = 0"));
  }
}

}  // namespace
}  // namespace halftool::io
