// Trims through the built program.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "io/cli/exit_code.hpp"
#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"
#include "tests/end_to_end/vtk_files.hpp"

namespace halftool::test {
namespace {

using io::as_int;
using io::ExitCode;
using nlohmann::json;
using ::testing::HasSubstr;

const std::string kPlain = std::string(no_forming_limit) + "[outputs]\npictures = false\nseries = false\n";

class Trims : public Program {
 protected:
  [[nodiscard]] json press(const std::string& name, const std::string& text,
                           const std::string& limits = no_forming_limit) const {
    write(name + ".toml", text + limits + "[outputs]\npictures = false\nseries = false\n");
    const Answer answer = run({"press", name + ".toml", "--out", name, "--quiet"});
    EXPECT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;
    return json::parse(text_of(work() / name / "summary.json"));
  }
  /// How many files of a name lie in the working folder and below.
  [[nodiscard]] long files_named(const std::string& name) const {
    const std::filesystem::recursive_directory_iterator all(work());
    return std::count_if(begin(all), end(all),
                         [&](const auto& entry) { return entry.path().filename() == name; });
  }
  /// Lowest node of a file of results [mm].
  [[nodiscard]] double lowest(const std::string& name, const std::string& file) const {
    const auto grid = read_grid(work() / name / file);
    double z = 1e9;
    for (vtkIdType i = 0; i < grid->GetNumberOfPoints(); ++i) z = std::min(z, grid->GetPoint(i)[2]);
    return z;
  }
};

double springback(const json& summary) {
  return summary.at("flanges").at(0).at("springback_deg").get<double>();
}

/// All of the bracket above a height [mm] is kept.
std::string cut_at(const std::string& height, const std::string& more = "") {
  return "[[trim]]\nalong = \"y\"\npolygon = [[\"-60 mm\", \"" + height + "\"], [\"60 mm\", \"" + height +
         "\"], [\"60 mm\", \"60 mm\"], [\"-60 mm\", \"60 mm\"]]\n" + more;
}

// A flange is shortened; before or after the release it opens by the same angle.
TEST_F(Trims, AFlangeIsCutAtAHeight) {
  const json late = press("late", bracket("40 MPa", cut_at("25 mm")));
  const json early = press("early", bracket("40 MPa", cut_at("25 mm", "when = \"before release\"\n")));
  EXPECT_LT(lowest("late", "formed.vtu"), 23);           // the whole flange
  EXPECT_NEAR(lowest("late", "released.vtu"), 25, 0.3);  // it springs and is fitted
  EXPECT_NEAR(springback(late), springback(early), 0.01);
  const json trim = late.at("trims").at(0);
  EXPECT_GT(trim.at("kept_share").get<double>(), 0.8);
  EXPECT_LT(trim.at("kept_share").get<double>(), 0.95);
  EXPECT_GT(trim.at("motion_mm").get<double>(), 0);
  EXPECT_LT(trim.at("motion_mm").get<double>(), 0.1);
}

// Cut between two steps: the next one presses what is left, and goes to its end.
TEST_F(Trims, BetweenTwoSteps) {
  const std::string steps = "name = \"first\"\n[[step]]\npressure = \"40 MPa\"\n";
  const std::string computed = "[limits]\nforming_limit = \"computed\"\n";
  const json summary =
      press("between", bracket("20 MPa", steps + cut_at("25 mm", "after_step = \"first\"\n")), computed);
  // What the bend used up of the forming limit before the cut is carried through it.
  const json whole = press("whole", bracket("20 MPa", steps), computed);
  const auto used = [](const json& of) { return of.at("limit_share").at("path_worst").get<double>(); };
  EXPECT_GT(used(whole), whole.at("limit_share").at("worst").get<double>());
  EXPECT_NEAR(used(summary), used(whole), 0.02 * used(whole));
  const auto released = read_grid(work() / "between" / "released.vtu");
  vtkDataArray* shares = released->GetCellData()->GetArray("path limit share [-]");
  ASSERT_NE(shares, nullptr);
  EXPECT_NEAR(shares->GetRange()[1], used(summary), 1e-9);
  EXPECT_NEAR(lowest("between", "formed.vtu"), 25, 0.3);  // the second step draws it down by 0.13 mm
  EXPECT_NEAR(summary.at("pressure").at("reached_mpa").get<double>(), 40, 1e-9);
  EXPECT_LT(std::abs(summary.at("balance").at("imbalance").get<double>()), 1e-3);
  EXPECT_TRUE(summary.at("trims").at(0).at("motion_mm").is_null());
}

// Where a line meets the formed part is known only when it is formed.
TEST_F(Trims, ALineBesideToolAndBlankIsRefusedBeforeThePressing) {
  write("beside.toml", bracket("5 MPa", cut_at("50 mm")));
  const Answer answer = run({"press", "beside.toml", "--out", "beside", "--quiet"});
  EXPECT_EQ(answer.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(answer.err, HasSubstr("trim[1].polygon"));
}

// The middle of the sheet lies at 35.8 mm, its upper face at 36.6.
TEST_F(Trims, ALineThatLeavesNothingCostsNoMoreThanTheCut) {
  const auto numbers = [&](const std::string& name, const std::string& lines, ExitCode code) {
    write(name + ".toml", bracket("5 MPa", lines + kPlain));
    const Answer answer = run({"press", name + ".toml", "--out", name, "--quiet"});
    EXPECT_EQ(answer.code, as_int(code)) << answer.err;
    json summary = json::parse(text_of(work() / name / "summary.json"));
    summary["said"] = answer.err;
    return summary;
  };
  const json whole = numbers("whole", "", ExitCode::done);
  const json above = numbers("above", cut_at("36.3 mm"), ExitCode::not_completed);
  EXPECT_THAT(above.at("reason").get<std::string>(),
              HasSubstr("trim[1]: the trim line leaves nothing of the sheet"));
  EXPECT_THAT(above.at("said").get<std::string>(), HasSubstr("the released part is kept, untrimmed"));
  EXPECT_EQ(above.at("flanges"), whole.at("flanges"));
  EXPECT_EQ(above.at("estimates"), whole.at("estimates"));
  EXPECT_TRUE(above.at("trims").empty());
  EXPECT_EQ(text_of(work() / "above" / "released.vtu"), text_of(work() / "whole" / "released.vtu"));

  const json cut = numbers("cut", cut_at("25 mm"), ExitCode::done);
  const json second = numbers("second", cut_at("25 mm") + cut_at("36.3 mm"), ExitCode::not_completed);
  EXPECT_THAT(second.at("reason").get<std::string>(), HasSubstr("trim[2]: "));
  EXPECT_THAT(second.at("reason").get<std::string>(),
              HasSubstr("trimmed along the lines before this one only"));
  EXPECT_EQ(second.at("flanges"), cut.at("flanges"));
  EXPECT_EQ(second.at("trims"), cut.at("trims"));
  EXPECT_EQ(text_of(work() / "second" / "released.vtu"), text_of(work() / "cut" / "released.vtu"));
}

// What was pressed for a line that could not be cut is not pressed again for another one.
TEST_F(Trims, AnotherLineGoesOnFromTheFullPressure) {
  write("case.toml", bracket("5 MPa", cut_at("25 mm") + kPlain));
  ASSERT_EQ(run({"press", "case.toml", "--out", "at-once", "--quiet"}).code, as_int(ExitCode::done));
  write("case.toml", bracket("5 MPa", cut_at("36.3 mm") + kPlain));
  const Answer refused = run({"press", "case.toml", "--out", "twice", "--quiet"});
  ASSERT_EQ(refused.code, as_int(ExitCode::not_completed));
  EXPECT_THAT(refused.err, HasSubstr("--resume goes on from the full pressure"));
  EXPECT_THAT(text_of(work() / "twice" / "NOT-COMPLETE.txt"), HasSubstr("--resume"));
  write("case.toml", bracket("5 MPa", cut_at("25 mm") + kPlain));
  const Answer answer = run({"press", "case.toml", "--out", "twice", "--resume"});
  ASSERT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;
  EXPECT_THAT(answer.err, HasSubstr("goes on from 5 MPa"));
  for (const char* file : {"formed.vtu", "released.vtu"})
    EXPECT_EQ(text_of(work() / "twice" / file), text_of(work() / "at-once" / file)) << file;
  EXPECT_FALSE(std::filesystem::exists(work() / "twice" / "NOT-COMPLETE.txt"));
}

// All that can be told of a line without pressing is told beforehand.
TEST_F(Trims, ALineRoundAllOfThePartIsRefusedBeforeThePressing) {
  const std::string round =
      "[[trim]]\npolygon = [[\"-99 mm\", \"-99 mm\"], [\"99 mm\", \"-99 mm\"], [\"99 mm\", \"99 mm\"], "
      "[\"-99 mm\", \"99 mm\"]]\n";
  write("round.toml", bracket("5 MPa", round));
  const Answer answer = run({"check", "round.toml"});
  EXPECT_EQ(answer.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(answer.err, HasSubstr("that cuts nothing off\n    allowed  a line over the blank"));
  write("round.toml", bracket("5 MPa", round + "keep = \"outside\"\n"));
  EXPECT_THAT(run({"check", "round.toml"}).err, HasSubstr("that leaves nothing\n"));
}

}  // namespace
}  // namespace halftool::test
