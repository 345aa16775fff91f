// Other sheets over one tool half, and estimates beside computed values.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"

namespace halftool::test {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
namespace fs = std::filesystem;

class Sheets : public Program {};

TEST_F(Sheets, EachIsPressedIntoItsFolderWithATable) {
  write("case.toml", bracket("0.5 MPa", std::string(no_forming_limit) +
                                            "[[sheet.other]]\nname = \"heavy gauge\"\nthickness = \"2 mm\"\n"
                                            "[[sheet.other]]\nthickness = \"1 mm\"\n"));
  const Answer answer = run({"sheets", "case.toml", "--out", "runs"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_THAT(answer.out, HasSubstr("own sheet"));
  const json table = json::parse(text_of(work() / "runs" / "sheets.json"));
  ASSERT_EQ(table["runs"].size(), 3U);
  for (const json& row : table["runs"]) {
    const json summary = json::parse(text_of(work() / "runs" / row["folder"] / "summary.json"));
    EXPECT_EQ(summary["sheet"]["thickness_mm"], row["thickness_mm"]);
    EXPECT_EQ(summary["thinning"]["worst"], row["thinning"]);
    EXPECT_EQ(row["limit_kind"], "none");
    EXPECT_TRUE(row["path_share"].is_null());
    EXPECT_NEAR(summary["flanges"][0]["springback_deg"].get<double>(),
                row["springback_deg"].begin().value().get<double>(), 1e-9);
  }
  EXPECT_NE(table["runs"][0]["springback_deg"], table["runs"][2]["springback_deg"]);
  EXPECT_EQ(table["runs"][1]["folder"], "2-heavy-gauge");
  EXPECT_THAT(text_of(work() / "runs" / "sheets.csv"), HasSubstr("\"3-1-mm\",\"done\""));
  EXPECT_GT(fs::file_size(work() / "runs" / "sheets.png"), 5000U);
  // The results are not overwritten unless asked for.
  const Answer again = run({"sheets", "case.toml", "--out", "runs"});
  EXPECT_EQ(again.code, 2);
  EXPECT_THAT(again.err, HasSubstr("--replace"));
}

// A plain bend stretches the mid-surface nearly straight on: both measures of the forming limit agree there.
TEST_F(Sheets, SharesByKindAndAlongThePathStandInTheSummary) {
  write("case.toml", bracket("5 MPa", "[limits]\nforming_limit = \"computed\"\nbend_ratio = 0.5\n"));
  const Answer answer = run({"press", "case.toml", "--out", "result"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  const json summary = json::parse(text_of(work() / "result" / "summary.json"));
  EXPECT_EQ(summary["share"]["kind"], "bend");
  EXPECT_EQ(summary["share"]["face"], "pad face");
  EXPECT_NEAR(summary["share"]["worst"].get<double>(), summary["bend"]["share"].get<double>(), 1e-12);
  const auto straight = summary["limit_share"]["worst"].get<double>();
  EXPECT_NEAR(summary["limit_share"]["path_worst"].get<double>(), straight, 0.1 * straight);
  EXPECT_TRUE(summary["wrinkling"]["tendency"].is_number());
  EXPECT_THAT(answer.out, HasSubstr("along the path taken"));
  EXPECT_THAT(answer.out, HasSubstr("largest share"));
}

TEST_F(Sheets, RunThatFailsDoesNotStopTheOthers) {
  // The window is smaller than the flat sheet, and larger than what it folds to: nothing is left.
  const std::string window =
      "[[trim]]\nkeep = \"outside\"\npolygon = [[\"-45 mm\", \"-9 mm\"], [\"45 mm\", \"-9 mm\"], [\"45 mm\", "
      "\"9 mm\"], "
      "[\"-45 mm\", \"9 mm\"]]\n";
  write("case.toml",
        bracket("0.5 MPa", no_forming_limit + window + "[[sheet.other]]\nthickness = \"1 mm\"\n"));
  const Answer answer = run({"sheets", "case.toml", "--out", "runs", "--quiet"});
  EXPECT_EQ(answer.code, 3) << answer.err;
  const json table = json::parse(text_of(work() / "runs" / "sheets.json"));
  ASSERT_EQ(table["runs"].size(), 2U);
  for (const json& row : table["runs"]) {
    EXPECT_NE(row["outcome"], "done");
    EXPECT_THAT(row["reason"].get<std::string>(), HasSubstr("trim[1]"));
  }
}

TEST_F(Sheets, QuietRunsAreRuns) {
  write("case.toml",
        bracket("0.5 MPa", std::string(no_forming_limit) + "[[sheet.other]]\nthickness = \"1 mm\"\n"));
  const Answer answer = run({"sheets", "case.toml", "--out", "runs", "--quiet"});
  EXPECT_EQ(answer.code, 0) << answer.err;
  const json table = json::parse(text_of(work() / "runs" / "sheets.json"));
  ASSERT_EQ(table["runs"].size(), 2U);
  for (const json& row : table["runs"]) EXPECT_EQ(row["outcome"], "done") << row;
}

TEST_F(Sheets, CaseWithoutOthersAndBadOnesAreRefused) {
  write("case.toml", bracket("0.5 MPa", no_forming_limit));
  const Answer none = run({"sheets", "case.toml"});
  EXPECT_EQ(none.code, 2);
  EXPECT_THAT(none.err, HasSubstr("[[sheet.other]]"));
  write("thick.toml",
        bracket("0.5 MPa", std::string(no_forming_limit) + "[[sheet.other]]\nthickness = \"12 mm\"\n"
                                                           "[[sheet.other]]\nthickness = \"11 mm\"\n"));
  const Answer thick = run({"sheets", "thick.toml", "--out", "runs"});
  EXPECT_EQ(thick.code, 2);
  EXPECT_THAT(thick.err, HasSubstr("tool.block.edge_radius (with sheet.other[1])"));
  EXPECT_THAT(thick.err, HasSubstr("tool.block.edge_radius (with sheet.other[2])"));
  EXPECT_FALSE(fs::exists(work() / "runs"));
}

TEST_F(Sheets, PressPutsEstimatesBesideTheComputedFibreSpringbackAndFold) {
  write("case.toml", bracket("5 MPa", no_forming_limit));
  const Answer answer = run({"press", "case.toml", "--out", "result"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  EXPECT_THAT(answer.out, HasSubstr("Beside estimates by hand formulas"));
  const json summary = json::parse(text_of(work() / "result" / "summary.json"));
  ASSERT_EQ(summary["estimates"].size(), 3U);
  const json& fibre = summary["estimates"][0];
  EXPECT_EQ(fibre["what"], "strain of the outer fibre at bend at +x");
  EXPECT_NEAR(fibre["computed"].get<double>(), summary["bend"]["strain"].get<double>(), 1e-9);
  EXPECT_NEAR(fibre["estimated"].get<double>(), std::log(1 + 1.6 / (2 * 3 + 1.6)), 1e-3);
  const json& beside = summary["estimates"][1];
  EXPECT_EQ(beside["what"], "flange at +x opens by");
  EXPECT_NEAR(beside["computed"].get<double>(), -summary["flanges"][0]["springback_deg"].get<double>(), 1e-9);
  EXPECT_NEAR(beside["estimated"].get<double>(), 1.35, 0.02);
  EXPECT_EQ(beside["apart"].get<bool>(), std::abs(beside["difference"].get<double>()) > 0.3);
  const json& fold = summary["estimates"][2];
  EXPECT_EQ(fold["what"], "bend at +x begins to fold at");
  EXPECT_EQ(fold["unit"], "MPa");
  EXPECT_NEAR(fold["estimated"].get<double>(), 0.269, 0.001);  // see Reckon, BracketAgainstTheHand
  EXPECT_NEAR(fold["computed"].get<double>(), 0.269, 0.3 * 0.269);
}

}  // namespace
}  // namespace halftool::test
