#include "io/results/summary.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <set>
#include <sstream>

#include "tests/io/results/result_folder.hpp"

namespace halftool::io {
namespace {

using testing::HasSubstr;

/// Invented numbers, each different, so that a key that shows the wrong one is seen.
Summary invented_summary() {
  Summary s;
  s.version = "0.1.0";
  s.case_title = "Invented bracket";
  s.case_file = "bracket.toml";
  s.outcome = Outcome::limit_passed;
  s.reason = "thinning limit passed";
  s.material = "soft sheet";
  s.initial_thickness = 1.6;
  s.peak_pressure = 100;
  s.reached_pressure = 99.5;
  s.thinning = {0.12, {1, 2, 3}};
  s.thickening = {0.03, {4, 5, 6}};
  s.major_strain = {0.15, {7, 8, 9}};
  s.limit_share = {1.02, {10, 11, 12}};
  s.path_share = {1.05, {20, 21, 22}};
  s.governing_share = {1.05, {20, 21, 22}};
  s.governing_kind = "splitting";
  s.governing_face = "both";
  s.wrinkling = Wrinkling{{0.6, {1, 1, 1}}, {0.4, {2, 2, 2}}, -35, 0.12};
  s.rate_factor = 1.1;
  s.sheet_grade = "guessed";
  s.sheet_stock = "AA-invented";
  s.sheet_constants = {{"swift.exponent", "0.2", "guessed", "a book", "derived"}};
  s.edge_limit = "0.2 true strain, invented";
  s.edge_strain = {0.15, {13, 14, 15}};
  s.edge_share = {0.75, {13, 14, 15}};
  s.bend_limit = "not judged: no limit given";
  s.bend_strain = {0.12, {16, 17, 18}};
  s.limit_name = "estimated";
  s.flanges = {{"flange at +x", std::numbers::pi / 2, std::numbers::pi / 2 - 0.02}};
  s.fit = ReleaseFit{0.11, 0.42, {60, 0, 20}};
  solver::EdgeWaveHistory waves;
  waves.highest = {2.5, 6, 0.83, 31, 0.012, {16, 17, 18}, 0};
  waves.left = {99.5, 2, 0.21, 12, 0.003, {19, 20, 21}, 0};
  waves.least_strain = -0.058;
  waves.largest_strain = -0.001;
  s.edge_waves = waves;
  s.record.increments = 41;
  s.record.iterations = 222;
  s.record.external_work = 5000;
  s.record.regularisation_work = 25;
  s.record.pressure_force_z = -1000;
  s.record.tool_force_z = 999;
  s.record.largest_penetration = 0.0016;
  s.record.seconds_factor = 3;
  s.record.seconds_other = 1;
  s.phases = {{"tool", 1.5}, {"forming", 20.25}};
  s.peak_memory = 512;
  s.mesh.triangles = 3000;
  s.tool_material = "cast alloy";
  s.tool_allowed_stress = 180;
  solver::Finding wall;
  wall.what = "wall";
  wall.found = {"stress", 300, "MPa"};
  wall.limit = {"allowed stress", 180, "MPa"};
  wall.formula = "3 p (h/b)^2";
  wall.inputs = {{"h", 10, "mm"}};
  wall.at = {13, 14, 15};
  wall.caution = "approve the tool";
  s.screened_tools = {{"\"dish\"", 20, {{"walls", "thin walls", "", {wall}, 4}}},
                      {"2", 100, {{"fill", "", "", {}, 0}}}};
  s.warnings = {"the limit curve is an estimate"};
  s.cautions = {"This result does not clear tool, press or part."};
  s.credential = "invented";
  return s;
}

class SummaryFile : public test::ResultFolder {
 protected:
  nlohmann::json round_trip(const Summary& summary) {
    write_summary(folder_ / "summary.json", summary);
    std::ifstream in(folder_ / "summary.json");
    return nlohmann::json::parse(in);
  }
};

TEST_F(SummaryFile, CarriesTheScreensOfTheTool) {
  const nlohmann::json j = round_trip(invented_summary());
  EXPECT_EQ(j["tool"]["material"], "cast alloy");
  EXPECT_EQ(j["tool"]["allowed_stress_mpa"], 180);
  const auto& screen = j["screens"][0];
  EXPECT_EQ(screen["name"], "walls");
  EXPECT_EQ(screen["from_step"], "\"dish\"");
  EXPECT_EQ(screen["pressure_mpa"], 20);
  ASSERT_EQ(j["screens"].size(), 2U);
  EXPECT_EQ(j["screens"][1]["from_step"], "2");
  EXPECT_EQ(screen["tripped"], true);
  EXPECT_EQ(screen["more"], 4);
  const auto& wall = screen["findings"][0];
  EXPECT_EQ(wall["found"]["value"], 300);
  EXPECT_EQ(wall["limit"]["unit"], "MPa");
  EXPECT_EQ(wall["at_mm"], (std::vector<double>{13, 14, 15}));
  EXPECT_EQ(wall["inputs"][0]["name"], "h");
  EXPECT_EQ(wall["caution"], "approve the tool");
}

TEST_F(SummaryFile, HoldsWhatItWasGiven) {
  const nlohmann::json j = round_trip(invented_summary());
  EXPECT_EQ(j["outcome"], "limit passed");
  EXPECT_EQ(j["pressure"]["reached_mpa"], 99.5);
  EXPECT_EQ(j["thinning"]["worst"], 0.12);
  EXPECT_EQ(j["thinning"]["at_mm"], (std::vector<double>{1, 2, 3}));
  EXPECT_EQ(j["limit_share"]["worst"], 1.02);
  EXPECT_EQ(j["limit_share"]["path_worst"], 1.05);
  EXPECT_EQ(j["share"]["kind"], "splitting");
  EXPECT_EQ(j["share"]["at_mm"][0], 20);
  EXPECT_EQ(j["wrinkling"]["tendency"], 0.6);
  EXPECT_EQ(j["wrinkling"]["loose"], 0.4);
  EXPECT_EQ(j["wrinkling"]["loose_stress_mpa"], -35);
  EXPECT_EQ(j["wrinkling"]["area"], 0.12);
  EXPECT_EQ(j["sheet"]["rate_factor"], 1.1);
  EXPECT_EQ(j["sheet"]["grade"], "guessed");
  EXPECT_EQ(j["sheet"]["stock"], "AA-invented");
  EXPECT_EQ(j["sheet"]["constants"][0]["key"], "swift.exponent");
  EXPECT_EQ(j["sheet"]["constants"][0]["note"], "derived");
  EXPECT_EQ(j["edge"]["share"], 0.75);
  EXPECT_EQ(j["edge"]["at_mm"][2], 15);
  EXPECT_EQ(j["bend"]["strain"], 0.12);
  EXPECT_TRUE(j["bend"]["share"].is_null());
  EXPECT_EQ(j["bend"]["limit"], "not judged: no limit given");
  EXPECT_NEAR(j["flanges"][0]["formed_deg"], 90, 1e-12);
  EXPECT_NEAR(j["flanges"][0]["springback_deg"], -0.02 * 180 / std::numbers::pi, 1e-9);
  EXPECT_EQ(j["release_fit"]["largest_mm"], 0.42);
  EXPECT_EQ(j["edge_waves"]["highest"]["count"], 6);
  EXPECT_EQ(j["edge_waves"]["highest"]["height_mm"], 0.83);
  EXPECT_EQ(j["edge_waves"]["highest"]["pressure_mpa"], 2.5);
  EXPECT_EQ(j["edge_waves"]["left"]["at_mm"], (std::vector<double>{19, 20, 21}));
  EXPECT_EQ(j["edge_waves"]["left"]["bending_strain"], 0.003);
  EXPECT_EQ(j["edge_waves"]["least_strain"], -0.058);
  EXPECT_EQ(j["run"]["increments"], 41);
  EXPECT_EQ(j["run"]["iterations"], 222);
  EXPECT_EQ(j["work"]["fluid_j"], 5.0);
  EXPECT_DOUBLE_EQ(j["work"]["regularisation_share"], 0.005);
  EXPECT_DOUBLE_EQ(j["balance"]["imbalance"], -0.001);
  EXPECT_DOUBLE_EQ(j["contact"]["penetration_over_thickness"], 0.001);
  EXPECT_EQ(j["time"]["phases_s"]["forming"], 20.25);
  EXPECT_EQ(j["time"]["total_s"], 21.75);
  EXPECT_EQ(j["time"]["solver"]["overhead_share"], 0.25);
  EXPECT_EQ(j["warnings"].size(), 1U);
}

TEST_F(SummaryFile, ValuesThatWereNotReachedAreNull) {
  Summary broken_off;
  broken_off.outcome = Outcome::not_completed;
  const nlohmann::json j = round_trip(broken_off);
  EXPECT_TRUE(j["thinning"]["worst"].is_null());
  EXPECT_TRUE(j["release_fit"]["rms_mm"].is_null());
  EXPECT_TRUE(j["edge_waves"]["left"].is_null());
  EXPECT_TRUE(j["balance"]["imbalance"].is_null());
  EXPECT_EQ(j["outcome"], "not completed");
}

TEST_F(SummaryFile, TextThatIsNotUtf8DoesNotLoseTheResult) {
  Summary summary = invented_summary();
  summary.case_file = "caf\xe9.toml";
  EXPECT_EQ(round_trip(summary)["run"]["increments"], 41);
}

TEST_F(SummaryFile, EveryKeyIsDocumentedOnce) {
  const nlohmann::json flat = round_trip(invented_summary()).flatten();
  std::set<std::string> documented;
  std::istringstream table(summary_keys_markdown());
  for (std::string row; std::getline(table, row);)
    if (row.starts_with("| `")) {
      EXPECT_TRUE(documented.insert(row.substr(3, row.find('`', 3) - 3)).second) << row;
    }
  EXPECT_GT(documented.size(), 60U);
  for (const auto& [pointer, value] : flat.items()) {
    std::string key = pointer.substr(1);
    for (char& c : key) c = c == '/' ? '.' : c;
    while (!documented.contains(key) && key.find('.') != std::string::npos) key.erase(key.rfind('.'));
    EXPECT_TRUE(documented.contains(key)) << pointer;
  }
}

TEST_F(SummaryFile, UnwritablePathIsNamed) {
  EXPECT_THROW(write_summary(folder_ / "none" / "summary.json", Summary{}), WriteError);
}

TEST(SummaryPrint, ShowsPressureInBothUnitsAndSpringback) {
  std::ostringstream out;
  print_summary(out, invented_summary());
  const std::string text = out.str();
  EXPECT_THAT(text, HasSubstr("99.5 MPa (14431 psi)"));
  EXPECT_THAT(text, HasSubstr("-1.15 deg"));
  EXPECT_THAT(text, HasSubstr("12.00 %  at (1.0, 2.0, 3.0) mm"));
  EXPECT_THAT(text, HasSubstr("This result does not clear tool, press or part."));
  EXPECT_THAT(text, testing::Not(HasSubstr("nan")));
}

TEST(SummaryPrint, ABrokenOffJobShowsNoNan) {
  std::ostringstream out;
  Summary summary;
  summary.outcome = Outcome::not_completed;
  summary.reason = "no equilibrium beyond 3.2 MPa";
  print_summary(out, summary);
  EXPECT_THAT(out.str(), HasSubstr("no equilibrium beyond 3.2 MPa"));
  EXPECT_THAT(out.str(), testing::Not(HasSubstr("nan")));
}

// Waves that were pressed flat are said so; a part without waves says nothing of them.
TEST(SummaryPrint, SaysWhetherTheWavesOfAnEdgeWereIronedOut) {
  const auto printed = [](const Summary& s) {
    std::ostringstream out;
    print_summary(out, s);
    return out.str();
  };
  Summary s = invented_summary();
  EXPECT_THAT(printed(s), HasSubstr("6, up to 0.83 mm high and 31 mm long, at 2.5 MPa"));
  EXPECT_THAT(printed(s), HasSubstr("2, up to 0.21 mm high and 12 mm long, bending strain 0.0030"));
  s.edge_waves->left = {99.5};
  EXPECT_THAT(printed(s), HasSubstr("none above 0.08 mm; strain along the edge -0.058 to -0.001"));
  s.edge_waves->highest = {};
  EXPECT_THAT(printed(s), testing::Not(HasSubstr("waves")));
}

}  // namespace
}  // namespace halftool::io
