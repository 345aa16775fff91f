// The whole job through the built program: what it writes, whether that can be trusted, and how it ends.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "io/case/case.hpp"
#include "io/cli/exit_code.hpp"
#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"
#include "tests/end_to_end/vtk_files.hpp"
#include "tests/support/fibre_bending.hpp"

namespace halftool::test {
namespace {

namespace fs = std::filesystem;
using io::as_int;
using io::ExitCode;
using nlohmann::json;
using ::testing::HasSubstr;

class Press : public Program {
 protected:
  [[nodiscard]] fs::path result(const std::string& name = "result") const { return work() / name; }
  [[nodiscard]] json summary() const { return json::parse(text_of(result() / "summary.json")); }
  [[nodiscard]] std::map<std::string, std::string> contents() const {
    std::map<std::string, std::string> texts;
    for (const auto& entry : fs::recursive_directory_iterator(work()))
      if (entry.is_regular_file()) texts[fs::relative(entry.path(), work())] = text_of(entry.path());
    return texts;
  }
};

/// Springback [deg] of a plain wide bend of the bracket through a fold angle, by the fibre reference, without
/// pressure and with the full pressure on either face: what the pressed flange should lie about.
Range plain_bend(double fold_deg, double pressure) {
  const io::Case job = io::parse_case(bracket("100 MPa"), "bracket.toml");
  Range range{1e9, -1e9};
  for (const double outer : {0.0, pressure})
    for (const double inner : {0.0, pressure}) {
      FibreBend bend{job.material, 1.6, 3 + 0.8};
      bend.outer_pressure = outer;
      bend.inner_pressure = inner;
      const double springback = -fold_deg * bend_and_release(bend).springback;
      range = {std::min(range.least, springback), std::max(range.most, springback)};
    }
  return range;
}

void expect_trustworthy(const json& s) {
  EXPECT_EQ(s["outcome"], "done");
  EXPECT_DOUBLE_EQ(s["pressure"]["reached_mpa"], 100);
  EXPECT_LT(s["balance"]["fluid_force_n"], -0.9 * 100 * 30 * 5);  // down on the top, 30 mm by 5 mm
  EXPECT_LT(std::abs(s["balance"]["imbalance"].get<double>()), 1e-3);
  EXPECT_LT(s["balance"]["support_reaction_n"], 0.01);
  EXPECT_LT(s["contact"]["penetration_over_thickness"], 0.005);
  EXPECT_LT(s["work"]["regularisation_share"], 0.02);
  EXPECT_LT(s["run"]["iterations"], 600);
  // What the fluid puts in goes into plastic work and friction, and a little into elastic energy.
  const double used = s["work"]["plastic_j"].get<double>() + s["work"]["friction_j"].get<double>();
  const double given = s["work"]["fluid_j"];
  EXPECT_LT(used, given);
  EXPECT_GT(used, 0.75 * given);
}

void expect_plausible_part(const json& s) {
  ASSERT_EQ(s["flanges"].size(), 1U);
  const json& flange = s["flanges"][0];
  const double formed = flange["formed_deg"];
  EXPECT_NEAR(formed, 90, 0.5);
  EXPECT_NEAR(flange["springback_deg"], flange["released_deg"].get<double>() - formed, 1e-9);
  // A tenth to either side of the plain bends: the strip is narrow, the mesh coarse.
  const Range bend = plain_bend(formed, 100);
  EXPECT_GT(flange["springback_deg"], 1.1 * bend.least);
  EXPECT_LT(flange["springback_deg"], 0.9 * bend.most);
  // ln(1 + t / (2 R)) = 0.191 in the outer fibre of the plain bend; the nose of the fold adds to it.
  EXPECT_GT(s["strain"]["major_face"], 0.19);
  EXPECT_LT(s["strain"]["major_face"], 0.4);
  EXPECT_GT(s["thinning"]["worst"], 0);
  EXPECT_LT(s["thinning"]["worst"], 0.06);
  EXPECT_TRUE(s["limit_share"]["worst"].is_null());  // not judged
}

void expect_readable_files(const fs::path& folder, const json& s) {
  const auto formed = read_grid(folder / "formed.vtu"), released = read_grid(folder / "released.vtu");
  const auto tool = read_grid(folder / "tool.vtu");
  for (const auto& grid : {formed, released}) {
    EXPECT_EQ(grid->GetNumberOfPoints(), s["mesh"]["nodes"]);
    EXPECT_EQ(grid->GetNumberOfCells(), s["mesh"]["triangles"]);
    EXPECT_NEAR(cell_range(*grid, "thickness [mm]").most, 1.6, 0.1);
  }
  EXPECT_DOUBLE_EQ(cell_range(*formed, "thinning [-]").most, s["thinning"]["worst"]);
  EXPECT_GT(cell_range(*formed, "contact pressure [MPa]").most, 100);
  EXPECT_EQ(cell_range(*released, "contact pressure [MPa]").most, 0);
  EXPECT_EQ(tool->GetNumberOfCells(), s["mesh"]["tool_facets"]);

  const std::vector<fs::path> series = series_files(folder / "pressing.pvd");
  EXPECT_GT(series.size(), s["run"]["increments"]);  // the dwell and the release as well
  for (const fs::path& file : series)
    EXPECT_EQ(read_grid(file)->GetNumberOfCells(), s["mesh"]["triangles"]) << file;
  for (const char* picture : {"thinning.png", "release.png", "section.png"})
    EXPECT_GT(drawn_share(folder / picture), 0.02) << picture;
}

// Its centroid lies 8 mm beyond the flat of the block.
TEST_F(Press, WarnsOfABlankThatTipsAndKeepsTheWarning) {
  std::string text = bracket("0.05 MPa", "[limits]\nforming_limit = \"none\"\n");
  const auto put = [&text](const std::string& old, const std::string& with) {
    text.replace(text.find(old), old.size(), with);
  };
  put("[\"x\", \"y\"]", "[\"y\"]");
  put("[tool]", "place = [\"35 mm\", \"0 mm\"]\n[tool]");
  write("case.toml", text);
  const Answer answer = run({"press", "case.toml", "--out", "result", "--quiet"});
  EXPECT_THAT(answer.err, HasSubstr("blank.place\n    found    a blank whose centroid, at (35, 0) mm"));
  EXPECT_THAT(summary()["warnings"].dump(), HasSubstr("it tips as it is laid down"));
}

TEST_F(Press, WritesAResultThatCanBeTrustedAndLeavesItAlone) {
  write("bracket.toml", bracket("100 MPa", no_forming_limit));
  const std::vector<std::string> command = {"press", "bracket.toml", "--out", "result", "--quiet"};
  const Answer answer = run(command);
  ASSERT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;
  EXPECT_EQ(answer.out, "");
  EXPECT_EQ(answer.err, "");
  const json s = summary();
  expect_trustworthy(s);
  expect_plausible_part(s);
  expect_readable_files(result(), s);

  const auto before = contents();
  const Answer again = run(command);
  EXPECT_EQ(again.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(again.err, HasSubstr("--replace"));
  EXPECT_EQ(contents(), before);
}

/// The numbers of a run without its times and its memory, which differ from run to run.
json timeless(json s) {
  s.erase("time");
  s.erase("memory");
  return s;
}

TEST_F(Press, GivesTheSameBitsForAnyNumberOfThreadsAndReplacesWhenAsked) {
  write("bracket.toml",
        bracket("10 MPa", std::string(no_forming_limit) + "[outputs]\npictures = false\nseries = false\n"));
  ASSERT_EQ(run({"press", "bracket.toml", "--out", "result", "-q", "--threads", "1"}).code, 0);
  const json one = summary();
  const std::string formed = text_of(result() / "formed.vtu"), released = text_of(result() / "released.vtu");
  EXPECT_FALSE(fs::exists(result() / "section.png"));
  EXPECT_FALSE(fs::exists(result() / "pressing.pvd"));
  write("result/notes.txt", "of the first run");

  ASSERT_EQ(run({"press", "bracket.toml", "--out", "result", "-q", "--threads", "2", "--replace"}).code, 0);
  EXPECT_FALSE(fs::exists(result() / "notes.txt"));
  EXPECT_EQ(timeless(summary()), timeless(one));
  EXPECT_EQ(text_of(result() / "formed.vtu"), formed);
  EXPECT_EQ(text_of(result() / "released.vtu"), released);
}

TEST_F(Press, EndsWithOneWhenALimitIsPassed) {
  write("bracket.toml", bracket("5 MPa", "[limits]\nthinning = \"0.2 %\"\nforming_limit = \"none\"\n"));
  const Answer answer = run({"press", "bracket.toml", "--out", "result"});
  EXPECT_EQ(answer.code, as_int(ExitCode::limit_passed)) << answer.err;
  EXPECT_THAT(answer.out, HasSubstr("above the limit of 0.2 %"));
  EXPECT_EQ(summary()["outcome"], "limit passed");
  EXPECT_TRUE(fs::exists(result() / "released.vtu"));
  EXPECT_FALSE(fs::exists(result() / "NOT-COMPLETE.txt"));
}

/// Of a run that broke off under way to 100 MPa: what was reached is there, and said to be incomplete.
void expect_kept(const fs::path& folder, const json& s, const std::string& reason) {
  EXPECT_THAT(text_of(folder / "NOT-COMPLETE.txt"), HasSubstr(reason));
  EXPECT_THAT(s["reason"].get<std::string>(), HasSubstr(reason));
  EXPECT_GT(s["pressure"]["reached_mpa"], 0);
  EXPECT_LT(s["pressure"]["reached_mpa"], 100);
  EXPECT_TRUE(s["flanges"].empty());
  EXPECT_GT(s["time"]["phases_s"]["pressing"], 0);
  EXPECT_EQ(read_grid(folder / "formed.vtu")->GetNumberOfCells(), s["mesh"]["triangles"]);
  EXPECT_FALSE(fs::exists(folder / "released.vtu"));
  EXPECT_FALSE(series_files(folder / "pressing.pvd").empty());
}

TEST_F(Press, EndsWithThreeAndKeepsWhatWasReachedWhenThereIsNoBalance) {
  // So few iterations do not carry the sheet round the edge.
  write("bracket.toml", bracket("100 MPa", "[method]\nmost_iterations = 3\n"));
  const Answer answer = run({"press", "bracket.toml", "--out", "result"});
  EXPECT_EQ(answer.code, as_int(ExitCode::not_completed));
  EXPECT_THAT(answer.err, HasSubstr("no equilibrium beyond"));
  EXPECT_EQ(summary()["outcome"], "not completed");
  expect_kept(result(), summary(), "no equilibrium beyond");
}

TEST_F(Press, EndsWithFourAndKeepsWhatWasReachedWhenInterrupted) {
  write("bracket.toml", bracket("100 MPa"));
  const Answer answer = interrupt_at("pressing", {"press", "bracket.toml", "--out", "result"});
  EXPECT_EQ(answer.code, as_int(ExitCode::stopped)) << answer.err;
  EXPECT_EQ(summary()["outcome"], "stopped");
  expect_kept(result(), summary(), "stopped by the user");
}

}  // namespace
}  // namespace halftool::test
