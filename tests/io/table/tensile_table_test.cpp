#include "io/table/tensile_table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

namespace halftool::io {
namespace {

using testing::HasSubstr;

/// Eight rows: i and 100 + 10 i, with a separator between.
std::string table_of(const std::string& headings, const std::string& separator = ",") {
  std::string text = headings + '\n';
  for (int i = 0; i < 8; ++i) text += std::to_string(i) + separator + std::to_string(100 + 10 * i) + '\n';
  return text;
}

solver::TensileTest test_of(const std::string& text) {
  return tensile_test_in(parse_number_table(text, "test.csv"));
}

CaseProblem refusal(const std::string& text) {
  try {
    test_of(text);
  } catch (const CaseError& error) {
    return error.problems().front();
  }
  return {"", -1, "", "accepted", "", ""};
}

TEST(TensileTable, ReadsKindsAndUnits) {
  const auto plain = test_of(table_of("engineering strain [%],engineering stress [MPa]"));
  EXPECT_FALSE(plain.true_values);
  ASSERT_EQ(plain.points.size(), 8U);
  EXPECT_DOUBLE_EQ(plain.points[3].strain, 0.03);
  EXPECT_DOUBLE_EQ(plain.points[3].stress, 130);

  const auto inches = test_of(table_of("True strain (%);True stress (ksi)", ";"));
  EXPECT_TRUE(inches.true_values);
  EXPECT_NEAR(inches.points[3].stress, 130 * 6.894757293, 1e-6);
  EXPECT_NEAR(test_of(table_of("nominal strain [%]\tnominal stress [ksi]", "\t")).points[3].stress,
              130 * 6.894757293, 1e-6);

  std::string swapped = "eng. stress [psi], lot, eng. strain [mm/mm]\n";
  for (int i = 0; i < 8; ++i) swapped += std::to_string(20000 + i) + ", A-1, 0.0" + std::to_string(i) + '\n';
  EXPECT_DOUBLE_EQ(test_of(swapped).points[7].strain, 0.07);
  EXPECT_NEAR(test_of(swapped).points[0].stress, 137.895, 0.001);
}

TEST(TensileTable, TakesNewtonsPerSquareMillimetre) {
  for (const char* unit : {"N/mm2", "N/mm^2", "N/mm\xC2\xB2"})
    EXPECT_DOUBLE_EQ(
        test_of(table_of(std::string("true strain [%],true stress [") + unit + "]")).points[3].stress, 130)
        << unit;
}

TEST(TensileTable, RefusesWithLineAndMend) {
  EXPECT_EQ(refusal(table_of("true plastic strain [%],true stress [MPa]")).found, "plastic strain");
  EXPECT_THAT(refusal(table_of("strain [%],stress [MPa]")).mend, HasSubstr("say which in the heading"));
  EXPECT_THAT(refusal(table_of("engineering strain [%],true stress [MPa]")).mend, HasSubstr("both"));
  EXPECT_THAT(refusal(table_of("true strain [%],true stress")).mend, HasSubstr("unit of stress"));
  EXPECT_EQ(refusal(table_of("true strain [%],true stress [ksi or MPa]")).found, "ksi or MPa");
  EXPECT_EQ(refusal(table_of("true strain [thou],true stress [MPa]")).found, "thou");
  EXPECT_THAT(refusal(table_of("true strain,true stress [MPa]")).mend, HasSubstr("[%]"));
  EXPECT_THAT(refusal(table_of("true strain [%],true stress [psi]")).mend, HasSubstr("unit of stress"));

  const auto falls = refusal(table_of("true strain [%],true stress [MPa]") + "6.5,200\n");
  EXPECT_EQ(falls.line, 10);
  EXPECT_EQ(falls.found, "6.5 after 7");
  EXPECT_THAT(falls.mend, HasSubstr("after fracture"));

  std::string turned = "true strain [%],true stress [MPa]\n";
  for (int i = 0; i < 8; ++i) turned += std::to_string(-i) + ",-" + std::to_string(100 + 10 * i) + '\n';
  EXPECT_EQ(refusal(turned).found, "7 of 8 readings below 0");
  EXPECT_THAT(refusal(turned).mend, HasSubstr("turn the signs"));

  const auto mixed = refusal(table_of("true strain [%],true stress [MPa]") + "8,29 ksi\n");
  EXPECT_EQ(mixed.line, 10);
  EXPECT_EQ(mixed.found, "29 ksi");

  EXPECT_THAT(refusal("true strain [%],true stress [MPa],true stress [ksi]\n0,1,2\n").mend,
              HasSubstr("one unit"));
  EXPECT_EQ(refusal("true strain [%],true stress [MPa]\n0,1\n1,2\n").found, "2 rows");
}

}  // namespace
}  // namespace halftool::io
