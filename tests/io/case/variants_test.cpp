// Cases with another sheet in the place of their own.
#include "io/case/variants.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/end_to_end/bracket.hpp"

namespace halftool::io {
namespace {

using ::testing::HasSubstr;

std::vector<CaseVariant> variants_of(const std::string& more) {
  return sheet_variants(test::bracket("50 MPa", more), "case.toml");
}

std::string refusal(const std::string& more) {
  try {
    variants_of(more);
  } catch (const CaseError& error) {
    return error.what();
  }
  return "";
}

TEST(SheetVariants, CaseAloneIsItsOwnSheet) {
  const auto variants = variants_of("");
  ASSERT_EQ(variants.size(), 1U);
  EXPECT_EQ(variants.front().label, "own sheet");
}

TEST(SheetVariants, ThicknessOrStockTakesThePlace) {
  const auto variants = variants_of(
      "[[sheet.other]]\nthickness = \"40 thou\"\n[[sheet.other]]\nname = \"hard\"\nstock = \"DP600\"\n"
      "[[sheet.other]]\nthickness = \"1 mm\"\nstock = \"DP600\"\n");
  ASSERT_EQ(variants.size(), 4U);
  EXPECT_EQ(variants[1].label, "1.016 mm");
  EXPECT_DOUBLE_EQ(variants[1].job.blank.thickness, 1.016);
  EXPECT_EQ(variants[1].job.material.name, variants[0].job.material.name);
  EXPECT_EQ(variants[2].label, "hard");
  EXPECT_DOUBLE_EQ(variants[2].job.blank.thickness, 1.6);
  ASSERT_TRUE(variants[2].job.stock);
  EXPECT_EQ(variants[2].job.stock->name, "DP600");
  EXPECT_GT(variants[2].job.material.youngs_modulus, 1.8e5);
  EXPECT_EQ(variants[3].label, "DP600, 1 mm");
  for (std::size_t i = 1; i < variants.size(); ++i) EXPECT_TRUE(variants[i].job.other_sheets.empty());
}

TEST(SheetVariants, LimitsOfTheOwnSheetGoWithItAndNotWithAnotherStock) {
  const auto variants = variants_of(
      "[sheet.forming_limit]\npoints = [[-0.1, 0.4], [0, 0.3], [0.2, 0.35]]\nstrain = \"true\"\nsource = "
      "\"lab report 7\"\n[limits]\nforming_limit = \"measured\"\nedge_stretch = \"20 %\"\nbend_ratio = 1\n"
      "thinning = \"15 %\"\n[[sheet.other]]\nthickness = \"1.5 mm\"\n[[sheet.other]]\nstock = "
      "\"steel-low-carbon\"\n");
  ASSERT_EQ(variants.size(), 3U);
  EXPECT_TRUE(variants[1].job.limit_points);
  EXPECT_TRUE(variants[1].job.limits.edge_stretch);
  EXPECT_FALSE(variants[2].job.limit_points);
  EXPECT_FALSE(variants[2].job.limits.edge_stretch);
  EXPECT_EQ(variants[2].job.limits.bend_ratio, 0.5);  // the stock's, for the case's 1 went with its sheet
  EXPECT_TRUE(variants[2].job.limits.thinning);
  EXPECT_NE(variants[2].job.limits.forming_limit, FormingLimit::measured);
}

TEST(SheetVariants, MeasuredPointsAreThoseOfTheOwnThickness) {
  const std::string points =
      "[sheet.forming_limit]\npoints = [[-0.1, 0.4], [0, 0.3], [0.2, 0.35]]\nstrain = \"true\"\nsource = "
      "\"lab report 7\"\n";
  const auto variants = variants_of(points + "[[sheet.other]]\nthickness = \"1 mm\"\n");
  ASSERT_EQ(variants.size(), 2U);
  EXPECT_THAT(print_warnings(variants), HasSubstr("1 mm): case.toml"));
  EXPECT_THAT(print_warnings(variants), HasSubstr("the limit is too high for 1 mm"));
  const auto tested = variants_of(points + "thickness = \"1 mm\"\n[[sheet.other]]\nthickness = \"1 mm\"\n");
  EXPECT_THAT(print_warnings(tested), HasSubstr("own sheet): case.toml"));  // the other way round
  EXPECT_THAT(print_warnings(tested), HasSubstr("the limit is too low for 1.6 mm"));
}

TEST(SheetVariants, HardeningIsTurnedOffForTheSameSheet) {
  const auto variants = variants_of(
      "[[sheet.other]]\nstock = \"DP780-cyclic\"\n[[sheet.other]]\nstock = \"DP780-cyclic\"\nhardening = "
      "\"isotropic\"\n");
  ASSERT_EQ(variants.size(), 3U);
  EXPECT_EQ(variants[2].label, "DP780-cyclic, 1.6 mm, isotropic");
  const solver::SheetMaterial &moved = variants[1].job.material, &grown = variants[2].job.material;
  EXPECT_TRUE(solver::hardens_kinematically(moved));
  EXPECT_FALSE(solver::hardens_kinematically(grown));
  EXPECT_EQ(moved.name, grown.name);
  for (const double strain : {0.0, 0.02, 0.2})
    EXPECT_EQ(solver::flow_stress(solver::tension_curve(moved), strain).stress,
              solver::flow_stress(solver::tension_curve(grown), strain).stress);
  // What is printed of the variant reads back to the same sheet.
  EXPECT_FALSE(solver::hardens_kinematically(parse_case(print_case(variants[2].job), "back.toml").material));
}

std::size_t count_of(const std::string& text, const std::string& words) {
  std::size_t n = 0;
  for (auto at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++n;
  return n;
}

// A doubt that only another sheet brings is told, with its name, and what all share once.
TEST(SheetVariants, WarningsOfAllAreToldOnceEach) {
  EXPECT_EQ(print_warnings(variants_of("[limits]\nforming_limit = \"none\"\n")), "");
  const std::string text = print_warnings(
      variants_of("[method]\nlayers = 5\n[limits]\nforming_limit = \"estimate\"\n[[sheet.other]]\nstock = "
                  "\"steel-low-carbon\"\nthickness = \"1.5 mm\"\n"
                  "[[sheet.other]]\nname = \"thick\"\nthickness = \"2.5 mm\"\n"));
  EXPECT_EQ(count_of(text, "warning ("), 3U) << text;
  EXPECT_EQ(count_of(text, "warning (all sheets): case.toml:26  method.layers"), 1U) << text;
  EXPECT_EQ(count_of(text, "warning (own sheet; thick): case.toml:28  limits.forming_limit"), 1U);
  EXPECT_EQ(count_of(text, "warning (thick): case.toml:15  tool.block.edge_radius"), 1U);
}

// What the stock says against a sheet is told once, however many runs press it.
TEST(SheetVariants, CautionsOfTheStockAreToldOnceEach) {
  const std::string text =
      print_warnings(variants_of("[limits]\nforming_limit = \"none\"\n[[sheet.other]]\nstock = \"AA7075-W\"\n"
                                 "[[sheet.other]]\nstock = \"AA7075-W\"\nthickness = \"1.2 mm\"\n"));
  EXPECT_EQ(count_of(text, "caution (sheet AA7075-W of the stock): "), 1U) << text;
}

TEST(SheetVariants, MistakesNameTheirKey) {
  EXPECT_THAT(refusal("[[sheet.other]]\nhardening = \"isotropic\"\n"),
              HasSubstr("the case's sheet hardens so already"));
  EXPECT_THAT(refusal("[[sheet.other]]\nstock = \"DP600\"\nhardening = \"kinematic\"\n"),
              HasSubstr("sheet.material.hardening (with sheet.other[1])"));
  EXPECT_THAT(refusal("[[sheet.other]]\nhardening = \"mixed\"\n"), HasSubstr("sheet.other[1].hardening"));
  EXPECT_THAT(refusal("[[sheet.other]]\nname = \"nothing else\"\n"),
              HasSubstr("neither thickness nor stock nor hardening"));
  EXPECT_THAT(refusal("[[sheet.other]]\nthickness = 1.0\n"), HasSubstr("sheet.other[1].thickness"));
  EXPECT_THAT(refusal("[[sheet.other]]\nstock = \"steel-low-carbn\"\n"), HasSubstr("sheet.other[1].stock"));
  EXPECT_THAT(refusal("[[sheet.other]]\nthicknes = \"1 mm\"\n"), HasSubstr("thickness"));
  EXPECT_THAT(refusal("[[sheet.other]]\nname = \"a\"\nthickness = \"1 mm\"\n[[sheet.other]]\nname = \"a\"\n"
                      "thickness = \"2 mm\"\n"),
              HasSubstr("each name once"));
}

}  // namespace
}  // namespace halftool::io
