// The table of several runs over one tool half.
#include "io/results/variant_table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>

#include "tests/io/results/result_folder.hpp"

namespace halftool::io {
namespace {

using ::testing::HasSubstr;

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

using VariantFiles = test::ResultFolder;

std::string text_of(const std::filesystem::path& file) {
  std::ifstream stream(file);
  return {std::istreambuf_iterator<char>(stream), {}};
}

TEST_F(VariantFiles, HoldTheSame) {
  VariantRow failed;
  failed.label = "thick, hard";
  failed.outcome = "failed";
  write_variants(folder_, "sheets", "bracket",
                 {variant_row("own sheet", "1-own-sheet", ended(), std::nullopt), failed});
  const auto csv = text_of(folder_ / "sheets.csv");
  EXPECT_THAT(
      csv, HasSubstr("\"own sheet\",\"1-own-sheet\",\"done\",\"sheet \"\"A\"\", soft\",,\"\",1.6,0.08,0.5,,,,"
                     "\"forming limit\",0.5,-2,\"\"\n"));
  EXPECT_THAT(csv, HasSubstr("\"flange at +x springback [deg]\",reason\n"));
  const auto root = nlohmann::json::parse(text_of(folder_ / "sheets.json"));
  EXPECT_EQ(root["runs"].size(), 2U);
  EXPECT_NEAR(root["runs"][0]["springback_deg"]["flange at +x"].get<double>(), -2, 1e-9);
  EXPECT_TRUE(root["runs"][1]["thinning"].is_null());
}

}  // namespace
}  // namespace halftool::io
