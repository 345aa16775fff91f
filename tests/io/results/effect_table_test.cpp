// Two-level designs and their effects, on made results whose effects are known.
#include "io/results/effect_table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

namespace halftool::io {
namespace {

using ::testing::HasSubstr;

std::vector<std::string> names(std::size_t n) {
  const std::vector<std::string> all = {"thickness", "strength", "exponent", "friction"};
  return {all.begin(), all.begin() + static_cast<std::ptrdiff_t>(n)};
}

/// A middle run and the runs of a design, with springback and thinning from a function of the signs.
template <class Function>
std::vector<VariantRow> rows_of(const TwoLevelDesign& design, Function springback) {
  std::vector<std::vector<int>> runs = design.signs;
  runs.insert(runs.begin(), std::vector<int>(design.factors.size(), 0));
  std::vector<VariantRow> rows;
  for (const auto& signs : runs) {
    VariantRow row;
    row.outcome = "done";
    row.springback["flange at +x"] = springback(signs);
    row.thinning = 0.02;
    rows.push_back(row);
  }
  return rows;
}

TEST(TwoLevelDesign, FullAndHalfAreBalancedAndSquareToEachOther) {
  for (std::size_t n = 1; n <= 4; ++n)
    for (const bool half : {false, true}) {
      const TwoLevelDesign design = two_level_design(names(n), half);
      EXPECT_EQ(design.half, half && n >= 3);
      EXPECT_EQ(design.signs.size(), std::size_t{1} << (design.half ? n - 1 : n));
      EXPECT_EQ(std::set(design.signs.begin(), design.signs.end()).size(), design.signs.size());
      for (std::size_t a = 0; a < n; ++a) {
        int sum = 0;
        for (const auto& run : design.signs) sum += run[a];
        EXPECT_EQ(sum, 0);
        for (std::size_t b = 0; b < a; ++b) {
          int product = 0;
          for (const auto& run : design.signs) product += run[a] * run[b];
          EXPECT_EQ(product, 0) << n << " factors, " << a << " and " << b;
        }
      }
    }
}

TEST(Effects, OfAStraightResultAreItsSlopesInTheirOrder) {
  for (const bool half : {false, true}) {
    const TwoLevelDesign design = two_level_design(names(4), half);
    const auto rows = rows_of(design, [](const std::vector<int>& s) {
      return -2 + 0.05 * s[0] - 0.20 * s[1] + 0.01 * s[2] + 0.10 * s[3];
    });
    const auto results = scattered_results(design, rows);
    ASSERT_EQ(results.size(), 2U);  // no share of a limit was judged
    const ScatteredResult& springback = results.front();
    EXPECT_EQ(springback.name, "flange at +x, springback");
    EXPECT_NEAR(springback.middle, -2, 1e-12);
    EXPECT_NEAR(springback.mean, -2, 1e-12);
    ASSERT_EQ(springback.effects.size(), 4U);
    EXPECT_EQ(springback.effects[0].factor, "strength");
    EXPECT_NEAR(springback.effects[0].change(), -0.40, 1e-12);
    EXPECT_EQ(springback.effects[1].factor, "friction");
    EXPECT_NEAR(springback.effects[1].change(), 0.20, 1e-12);
    EXPECT_EQ(springback.effects[3].factor, "exponent");
    if (!half) {
      EXPECT_NEAR(springback.least, -2.36, 1e-12);
      EXPECT_NEAR(springback.most, -1.64, 1e-12);
    }
  }
}

// A part that is judged along the path that its strain took has a band of that share too.
TEST(Effects, TellBothSharesOfTheFormingLimit) {
  const TwoLevelDesign design = two_level_design(names(2), false);
  auto rows = rows_of(design, [](const std::vector<int>&) { return -2.0; });
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].limit_share = 0.5;
    rows[i].path_share = 0.9 + 0.05 * static_cast<double>(i);
  }
  const auto results = scattered_results(design, rows);
  ASSERT_EQ(results.size(), 4U);
  EXPECT_EQ(results[1].name, "share of the forming limit");
  EXPECT_EQ(results[1].most, 0.5);
  EXPECT_EQ(results[2].name, "share of the forming limit along the path taken");
  EXPECT_NEAR(results[2].least, 0.9, 1e-12);
  EXPECT_NEAR(results[2].most, 1.1, 1e-12);
}

// Two flanges, of which the second scatters more, and two limits, of which the edge's is used more.
TEST(Effects, TheSpringbackThatScattersMostAndTheLimitUsedMostLead) {
  const TwoLevelDesign design = two_level_design(names(2), false);
  auto rows = rows_of(design, [](const std::vector<int>& s) { return -2 + 0.1 * s[0]; });
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].springback["flange at -x"] = -1 + 0.1 * static_cast<double>(i);
    rows[i].limit_share = 0.5;
    rows[i].edge_share = 0.8;
  }
  const auto results = scattered_results(design, rows);
  const auto leading = leading_results(results);
  ASSERT_EQ(leading.size(), 2U);
  EXPECT_EQ(leading[0]->name, "flange at -x, springback");
  EXPECT_EQ(leading[1]->name, "share of the edge limit");
  const auto none_judged =
      scattered_results(design, rows_of(design, [](const std::vector<int>&) { return -2.0; }));
  const auto others = leading_results(none_judged);
  ASSERT_EQ(others.size(), 2U);
  EXPECT_EQ(others[1]->name, "thinning");
  EXPECT_TRUE(leading_results({}).empty());
}

TEST(Effects, BentResultShowsInTheMiddle) {
  const TwoLevelDesign design = two_level_design(names(2), false);
  const auto rows = rows_of(design, [](const std::vector<int>& s) { return -2 - 0.3 * s[0] * s[0]; });
  const auto results = scattered_results(design, rows);
  EXPECT_NEAR(results.front().middle - results.front().mean, 0.3, 1e-12);
  EXPECT_NEAR(results.front().effects.front().change(), 0, 1e-12);
  EXPECT_FALSE(results.front().is_straight());
  EXPECT_THAT(print_effects(design, results), HasSubstr("more than any effect"));
  const auto straight =
      scattered_results(design, rows_of(design, [](const std::vector<int>& s) { return -2 - 0.3 * s[0]; }));
  EXPECT_TRUE(straight.front().is_straight());
  EXPECT_THAT(print_effects(design, {straight.front()}), testing::Not(HasSubstr("more than any effect")));
}

TEST(Effects, ResultThatARunDidNotReachIsLeftOut) {
  const TwoLevelDesign design = two_level_design(names(2), false);
  auto rows = rows_of(design, [](const std::vector<int>&) { return -2.0; });
  rows[2].springback.clear();
  EXPECT_EQ(scattered_results(design, rows).size(), 1U);
  rows[3].outcome = "failed";
  EXPECT_TRUE(scattered_results(design, rows).empty());
  EXPECT_THAT(print_effects(design, {}), HasSubstr("no result was reached by every run"));
  rows.pop_back();  // stopped by the user
  EXPECT_TRUE(scattered_results(design, rows).empty());
}

TEST(Effects, HalfDesignSaysWhatItMixes) {
  const TwoLevelDesign design = two_level_design(names(3), true);
  const auto rows = rows_of(design, [](const std::vector<int>&) { return -2.0; });
  EXPECT_THAT(print_effects(design, scattered_results(design, rows)),
              HasSubstr("mixed with how the two other"));
}

}  // namespace
}  // namespace halftool::io
