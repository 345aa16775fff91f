#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <numbers>

#include "tests/io/case/case_samples.hpp"

namespace halftool::io {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(Reader, FillsTheSpecsInInternalUnits) {
  const auto job = samples::parse(samples::bracket);
  EXPECT_EQ(job.title, "Bracket \"one\"");
  EXPECT_DOUBLE_EQ(job.blank.thickness, 1.6);
  EXPECT_DOUBLE_EQ(job.blank.rolling_angle, std::numbers::pi / 6);
  EXPECT_DOUBLE_EQ(job.material.youngs_modulus, 69000);
  EXPECT_DOUBLE_EQ(std::get<solver::SwiftHardening>(job.material.hardening).exponent, 0.2);
  const auto& rectangle = std::get<mesh::RectangleOutline>(job.blank.outline);
  EXPECT_EQ(rectangle.length, 190);
  EXPECT_EQ(rectangle.width, 60);
  EXPECT_EQ(rectangle.corner_radius, 4);
  ASSERT_EQ(job.blank.holes.size(), 2U);
  EXPECT_EQ(job.blank.holes[1].centre.x(), -30);
  EXPECT_EQ(job.blank.holes[1].radius, 2.5);
  EXPECT_EQ(std::get<mesh::StraightBlock>(job.tool.shape).height, 35);
  EXPECT_EQ(job.press.tool_friction, 0.1);
  ASSERT_EQ(job.steps.front().schedule.size(), 3U);
  EXPECT_DOUBLE_EQ(job.steps.front().schedule[1].share, 0.6);
  EXPECT_NEAR(job.peak_pressure(), 99.974, 1e-3);
  EXPECT_FALSE(job.blank.symmetric_x);
  EXPECT_TRUE(job.blank.symmetric_y);
  EXPECT_DOUBLE_EQ(job.limits.thinning.value(), 0.2);
  EXPECT_EQ(job.limits.forming_limit, FormingLimit::none);
  EXPECT_EQ(job.settings.threads, 2);
  EXPECT_FALSE(job.outputs.series);
  EXPECT_THAT(job.warnings, IsEmpty());
}

TEST(Reader, DetailPresetsGiveWayToTheKeysOfTheMethod) {
  const std::string text = samples::bracket;
  EXPECT_EQ(samples::parse(text).settings.layers, 7);
  EXPECT_EQ(samples::parse(text).blank_mesh.elements_per_bend, 6);
  const auto expert = samples::parse(text + "[method]\nlayers = 13\n");
  EXPECT_EQ(expert.settings.layers, 13);
  EXPECT_EQ(expert.blank_mesh.elements_per_bend, 6);
  EXPECT_TRUE(expert.given.contains("method.layers"));
  EXPECT_FALSE(expert.given.contains("method.elements_per_bend"));
}

TEST(Reader, DefaultsAreThoseOfTheSpecs) {
  auto text = std::string(samples::bracket);
  text.erase(text.find("[symmetry]"));
  const auto job = samples::parse(text);
  const solver::SolverSettings settings;
  EXPECT_EQ(job.settings.layers, settings.layers);
  EXPECT_EQ(job.settings.tolerance, settings.tolerance);
  EXPECT_EQ(job.blank_mesh.elements_per_bend, mesh::BlankMeshSpec{}.elements_per_bend);
  EXPECT_FALSE(job.limits.thinning.has_value());
  EXPECT_EQ(job.limits.forming_limit, FormingLimit::lower);  // its sheet is aluminium
}

TEST(Reader, TrialDetailIsTheDefault) {
  auto text = std::string(samples::bracket);
  text.erase(text.find("[effort]"));
  const auto plain = samples::parse(text);
  const auto trial = samples::parse(text + "\n[effort]\ndetail = \"trial\"\n");
  EXPECT_EQ(trial.settings.layers, plain.settings.layers);
  EXPECT_EQ(trial.blank_mesh.elements_per_bend, plain.blank_mesh.elements_per_bend);
}

TEST(Reader, APeakAloneIsAStraightRise) {
  const auto job = samples::parse(samples::all()[2]);
  ASSERT_EQ(job.steps.front().schedule.size(), 2U);
  EXPECT_EQ(job.steps.front().schedule[0].pressure, 0);
  EXPECT_EQ(job.steps.front().schedule[1].share, 1);
  EXPECT_EQ(job.peak_pressure(), 12);
}

TEST(Reader, AnUnevennessWithoutASizeIsOnePercentOfTheThickness) {
  const auto blank = [](const std::string& table) {
    std::string text = samples::bracket;
    const std::string head = "[blank]\n";
    return samples::parse(text.insert(text.find(head) + head.size(), table)).blank;
  };
  EXPECT_EQ(blank("").flatness.amplitude, 0);
  EXPECT_EQ(blank("imperfection = { pattern = 3 }\n").flatness.amplitude, 0.01);
  EXPECT_EQ(blank("imperfection = { pattern = 3, amplitude = 0 }\n").flatness.amplitude, 0);
  EXPECT_EQ(blank("imperfection = { amplitude = 0.02 }\n").flatness.amplitude, 0.02);
  std::string text = samples::bracket;
  const std::string head = "[blank]\n";
  const Case job = samples::parse(text.insert(text.find(head) + head.size(), "imperfection.pattern = 3\n"));
  EXPECT_EQ(samples::parse(print_case(job)).blank.flatness.amplitude, 0.01);
}

TEST(Reader, OneCornerRadiusServesAllCorners) {
  const auto job = samples::parse(samples::all()[1]);
  const auto& polygon = std::get<mesh::PolygonOutline>(job.blank.outline);
  ASSERT_EQ(polygon.corner_radii.size(), 5U);
  for (const double radius : polygon.corner_radii) EXPECT_DOUBLE_EQ(radius, 2.54);
}

TEST(Reader, TheStepFileLiesBesideTheCaseFile) {
  const auto job = samples::parse(samples::all()[3]);
  const std::filesystem::path path = std::get<mesh::StepShape>(job.tool.shape).path;
  EXPECT_EQ(path.filename(), "tool.step");
  EXPECT_EQ(path.parent_path(), job.file.parent_path());
}

TEST(Reader, AnStlFileTakesItsUnitAndPressAxis) {
  const auto job = samples::parse(samples::all().back());
  const auto& stl = std::get<mesh::StlShape>(job.tool.shape);
  EXPECT_EQ(std::filesystem::path(stl.path).filename(), "tool.stl");
  EXPECT_EQ(stl.unit, 10);
  EXPECT_EQ(stl.placement.press_axis, mesh::PressAxis::minus_y);
  EXPECT_TRUE(job.warnings.empty());
}

/// The sample with an STL tool, 10 units long, under a blank of another diameter and with another unit.
std::vector<CaseWarning> doubts_about_size(const std::string& unit, const std::string& diameter) {
  auto text = samples::all().back();
  text.replace(text.find("\"cm\""), 4, '"' + unit + '"');
  text.replace(text.find("180 mm"), 6, diameter);
  return samples::parse(text).warnings;
}

TEST(Reader, AnStlToolOfAnUnlikelySizeIsDoubtedWithItsUnit) {
  EXPECT_TRUE(doubts_about_size("mm", "30 mm").empty());
  EXPECT_TRUE(doubts_about_size("in", "300 mm").empty());
  const auto small = doubts_about_size("thou", "30 mm");
  ASSERT_EQ(small.size(), 1U);
  EXPECT_EQ(small[0].key, "tool.length_unit");
  EXPECT_EQ(small[0].found, "a tool of 0.254 x 0.127 x 0 mm");
  EXPECT_EQ(small[0].allowed, "usually 5 mm to 5 m");
  EXPECT_EQ(small[0].mend,
            "the unit of the STL file may be another one: as \"mm\" the tool is 10 x 5 x 0 mm, as \"in\" 254 "
            "x 127 x 0 "
            "mm");
  const auto large = doubts_about_size("m", "300 mm");
  ASSERT_EQ(large.size(), 1U);
  EXPECT_EQ(large[0].found, "a tool of 1e+04 x 5e+03 x 0 mm");
  const auto unlike_blank = doubts_about_size("mm", "250 mm");
  ASSERT_EQ(unlike_blank.size(), 1U);
  EXPECT_EQ(unlike_blank[0].found, "a tool of 10 x 5 x 0 mm under a blank 25 times as large");
  EXPECT_EQ(unlike_blank[0].allowed, "a blank that fits the tool");
}

/// The warnings of the bracket with other constants after Poisson's ratio.
std::string doubts_about_units(const std::string& constants) {
  std::string text = samples::bracket;
  const std::string swift = "swift = { strength = \"205 MPa\", pre_strain = 0.0014, exponent = \"20 %\" }";
  text.replace(text.find(swift), swift.size(), constants);
  return print_problems(samples::parse(text).warnings);
}

// Each table of the sheet for itself: a law may be copied from one source and a modulus from another.
TEST(Reader, UnitsOfStressAreDoubtedOnlyWhereOneTableMixesSystems) {
  EXPECT_EQ(
      doubts_about_units("hollomon = { strength = \"30 ksi\", exponent = 0.2, initial = \"8000 psi\" }\n"
                         "backstress = [[400, \"20 GPa\"], [30, \"3000 MPa\"]]\n"
                         "falling_modulus = { saturated = \"60 GPa\", rate = 61 }"),
      "");
  EXPECT_THAT(
      doubts_about_units("hollomon = { strength = \"205 MPa\", exponent = 0.2, initial = \"55 MPa\" }\n"
                         "backstress = [[400, \"20 GPa\"], [30, \"435 ksi\"], [3, \"2 GPa\"]]"),
      HasSubstr("sheet.material.backstress[2][2]\n    found    \"435 ksi\" beside \"20 GPa\" "
                "(backstress[1][2])"));
  // Nothing is nothing in any unit, and what the stock gives is no slip of the case.
  EXPECT_EQ(doubts_about_units(
                "yoshida_uemori = { yield = \"48 ksi\", bound = \"90 ksi\", bound_shift = \"0 MPa\", "
                "bound_gain = \"27 ksi\", bound_rate = 34, approach = 500, stagnation = 0.7 }"),
            "");
  EXPECT_EQ(doubts_about_units("stock = \"AA6061-O\"\nhollomon = { strength = \"29.7 ksi\" }"), "");
}

TEST(Reader, ReportsEverythingAtOnceInTheOrderOfTheLines) {
  auto text = std::string(samples::bracket);
  const auto change = [&](const std::string& from, const std::string& to) {
    text.replace(text.find(from), from.size(), to);
  };
  change("\"1.6 mm\"", "1.6");
  change("\"69 GPa\"", "\"69 MPa\"");
  change("edge_radius", "edge_radus");
  change("14500 psi", "14500 MPa");
  try {
    samples::parse(text);
    FAIL() << "accepted";
  } catch (const CaseError& error) {
    std::vector<std::string> keys;
    std::vector<int> lines;
    for (const auto& problem : error.problems()) {
      keys.push_back(problem.key);
      lines.push_back(problem.line);
    }
    EXPECT_THAT(keys, ElementsAre("sheet.thickness", "sheet.material.youngs_modulus", "tool.block.edge_radus",
                                  "step[1].pressure[3][2]"));
    EXPECT_TRUE(std::is_sorted(lines.begin(), lines.end()));
    EXPECT_THAT(error.what(), HasSubstr("did you mean edge_radius?"));
  }
}

TEST(Reader, SaysWhenAFileCannotBeRead) {
  EXPECT_THROW(read_case("no/such/case.toml"), CaseError);
  EXPECT_THROW(read_case(std::filesystem::temp_directory_path()), CaseError);
}

TEST(Reader, SurvivesAFileCutAnywhere) {
  const std::string text = samples::bracket;
  int accepted = 0;
  for (size_t n = 0; n < text.size(); ++n) {
    try {
      samples::parse(text.substr(0, n));
      ++accepted;
    } catch (const CaseError&) {
      // what is missing is said
    }
  }
  EXPECT_LT(accepted, 200);  // only where all required tables are already there
}

TEST(Reader, SurvivesADamagedFile) {
  const std::string text = samples::bracket;
  unsigned seed = 12345;
  const auto random = [&](size_t n) { return (seed = seed * 1664525U + 1013904223U) / 65536U % n; };
  const std::string letters = "[]{}\"'=,.\\#\n \x80\xff\t-+eE0%a";
  for (int i = 0; i < 1500; ++i) {
    auto damaged = text;
    for (size_t k = 0; k <= random(3); ++k) damaged[random(damaged.size())] = letters[random(letters.size())];
    try {
      samples::parse(damaged);
    } catch (const CaseError& error) {
      EXPECT_FALSE(error.problems().empty());
    }
  }
}

/// A case with an insert, whose files lie beside it.
std::string with_insert(const std::string& last_step, const std::string& tool) {
  return R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift = { strength = "530 MPa", pre_strain = 0.01, exponent = 0.26 } }
[blank]
circle = { diameter = "8 mm" }
[tool]
kind = "block"
)" + tool +
         R"(
[[tool.insert]]
name = "heel"
step = "tool.step"
last_step = ")" +
         last_step + R"("
[lubrication]
tool_side = { mu = 0.12 }
[[step]]
name = "draw"
pressure = "20 MPa"
[[step]]
name = "fold"
pressure = "100 MPa"
)";
}
constexpr const char* kBlock =
    "block = { length = \"60 mm\", width = \"40 mm\", height = \"35 mm\", edge_radius = \"6 mm\" }";

std::string refusal(const std::string& text) {
  try {
    samples::parse(text);
  } catch (const CaseError& error) {
    return error.what();
  }
  return "accepted";
}

TEST(Reader, InsertsStandUpToAStepThatThereIs) {
  EXPECT_EQ(refusal(with_insert("draw", kBlock)), "accepted");
  EXPECT_THAT(refusal(with_insert("bend", kBlock)),
              AllOf(HasSubstr("tool.insert[1].last_step\n"), HasSubstr("found    \"bend\""),
                    HasSubstr("allowed  the name of a step")));
  const auto job = samples::parse(with_insert("fold", kBlock));
  EXPECT_THAT(print_problems(job.warnings), HasSubstr("the insert is never taken out"));
}

TEST(Reader, InsertsCannotJoinATriangulatedTool) {
  EXPECT_THAT(refusal(with_insert("draw", "stl = \"tool.stl\"\nlength_unit = \"mm\"")),
              AllOf(HasSubstr("an insert beside an STL tool"), HasSubstr("give the tool half as STEP")));
}

}  // namespace
}  // namespace halftool::io
