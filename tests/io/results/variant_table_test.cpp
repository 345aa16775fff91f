// The table of several runs over one tool half.
#include "io/results/variant_table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>

#include "tests/io/results/result_folder.hpp"

namespace halftool::io {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

Summary ended() {
  Summary summary;
  summary.material = "sheet \"A\", soft";
  summary.initial_thickness = 1.6;
  summary.thinning.value = 0.08;
  summary.limit_share.value = 0.5;
  summary.flanges = {{"flange at +x", 90 * std::numbers::pi / 180, 88 * std::numbers::pi / 180}};
  return summary;
}

TEST(VariantRow, NamesTheLimitThatIsUsedMost) {
  EXPECT_EQ(variant_row("a", "1-a", ended(), std::nullopt).nearest_limit, "forming limit");
  const VariantRow thinned = variant_row("a", "1-a", ended(), 0.1);
  EXPECT_EQ(thinned.nearest_limit, "thinning limit");
  EXPECT_NEAR(thinned.nearest_share, 0.8, 1e-12);
  Summary cracked = ended();
  cracked.edge_share.value = 1.2;
  EXPECT_EQ(variant_row("a", "1-a", cracked, 0.1).nearest_limit, "edge limit");
  Summary unjudged;
  EXPECT_TRUE(variant_row("a", "1-a", unjudged, std::nullopt).nearest_limit.empty());
}

// The larger of the straight path's share and that along the path taken is what the forming limit is used by.
TEST(VariantRow, TakesTheLargerShareOfTheFormingLimit) {
  Summary turned = ended();
  turned.path_share.value = 1.02;
  const VariantRow row = variant_row("a", "1-a", turned, 0.1);
  EXPECT_EQ(row.nearest_limit, "forming limit");
  EXPECT_EQ(row.nearest_share, 1.02);
  EXPECT_EQ(row.limit_share, 0.5);
  EXPECT_EQ(row.path_share, 1.02);
  EXPECT_EQ(row.forming_share(), 1.02);
  turned.path_share.value = 0.4;
  EXPECT_EQ(variant_row("a", "1-a", turned, std::nullopt).nearest_share, 0.5);
  turned.limit_share.value = std::nan("");  // beside the points of the limit
  EXPECT_EQ(variant_row("a", "1-a", turned, std::nullopt).nearest_share, 0.4);
}

TEST(VariantRow, SpringbackIsReleasedMinusFormed) {
  EXPECT_NEAR(variant_row("a", "1-a", ended(), std::nullopt).springback.at("flange at +x"), -2, 1e-9);
}

TEST(VariantTable, TellsFailedRunsAndFlangesThatAreNotEverywhere) {
  VariantRow failed;
  failed.label = "thick";
  failed.outcome = "failed";
  failed.reason = "no mesh";
  const auto text = print_variants({variant_row("own sheet", "1-own-sheet", ended(), std::nullopt), failed});
  EXPECT_THAT(text, HasSubstr("forming limit 50.0 %"));
  EXPECT_THAT(text, HasSubstr("no mesh"));
  EXPECT_THAT(text, HasSubstr("-2.00 deg"));
  EXPECT_THAT(text, HasSubstr("none judged"));
}

TEST(VariantTable, ShowsBothSharesAndTheKindOfEachLimit) {
  Summary turned = ended();
  turned.path_share.value = 1.02;
  std::vector<VariantRow> rows = {variant_row("own sheet", "1-own-sheet", turned, std::nullopt),
                                  variant_row("DP600", "2-DP600", turned, std::nullopt)};
  rows[0].limit_kind = rows[1].limit_kind = "estimated";
  const auto alike = print_variants(rows);
  EXPECT_THAT(alike, HasSubstr("50.0 %   102.0 %  estimated"));
  EXPECT_THAT(alike, HasSubstr("forming limit 102.0 % PASSED"));
  EXPECT_THAT(alike, HasSubstr("straight: share of the forming limit on a straight path"));
  EXPECT_THAT(alike, Not(HasSubstr("kinds")));
  const auto columns = [&](const std::string& kind) {
    rows[0].limit_kind = kind;
    const auto text = print_variants(rows);
    const auto first = text.find('\n') + 1;
    const auto heading = text.find("nearest limit"), in_row = text.find("forming limit 102.0 %", first);
    EXPECT_EQ(heading, in_row - first) << text;
  };
  columns("measured");
  columns("lower (computed or estimated)");  // wider than its column was
  rows[0].limit_kind = "measured";
  EXPECT_THAT(print_variants(rows),
              HasSubstr("The forming limits are of different kinds (measured, estimated)"));
}

using VariantFiles = test::ResultFolder;

std::string text_of(const std::filesystem::path& file) {
  std::ifstream stream(file);
  return {std::istreambuf_iterator<char>(stream), {}};
}

TEST_F(VariantFiles, HoldTheSame) {
  VariantRow failed;
  failed.label = "thick, hard";
  failed.outcome = "failed";
  Summary turned = ended();
  turned.path_share.value = 0.625;
  VariantRow own = variant_row("own sheet", "1-own-sheet", turned, std::nullopt);
  own.limit_kind = "measured";
  write_variants(folder_, "sheets", "bracket", {own, failed});
  const auto csv = text_of(folder_ / "sheets.csv");
  EXPECT_THAT(csv, HasSubstr("limit share [-],path share [-],forming limit,edge share [-]"));
  EXPECT_THAT(csv,
              HasSubstr("\"own sheet\",\"1-own-sheet\",\"done\",\"sheet \"\"A\"\", soft\",,\"\",1.6,0.08,0.5,"
                        "0.625,measured,,,,\"forming limit\",0.625,-2,\"\"\n"));
  EXPECT_THAT(csv, HasSubstr("\"flange at +x springback [deg]\",reason\n"));
  const auto root = nlohmann::json::parse(text_of(folder_ / "sheets.json"));
  EXPECT_EQ(root["runs"].size(), 2U);
  EXPECT_NEAR(root["runs"][0]["springback_deg"]["flange at +x"].get<double>(), -2, 1e-9);
  EXPECT_EQ(root["runs"][0]["limit_share"], 0.5);
  EXPECT_EQ(root["runs"][0]["path_share"], 0.625);
  EXPECT_EQ(root["runs"][0]["limit_kind"], "measured");
  EXPECT_TRUE(root["runs"][1]["thinning"].is_null());
}

}  // namespace
}  // namespace halftool::io
