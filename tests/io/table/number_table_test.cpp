#include "io/table/number_table.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace halftool::io {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

CaseProblem refusal(const std::string& text, const std::string& word = "stress") {
  try {
    const auto table = parse_number_table(text, "test.csv");
    numbers_in(table, column_with(table, word, word + " [MPa]"));
  } catch (const CaseError& error) {
    return error.problems().front();
  }
  return {"", -1, "", "accepted", "", ""};
}

TEST(NumberTable, ReadsCommaSemicolonAndTab) {
  for (const char* text :
       {"strain [%], stress [MPa]\n0.1, 100.5\n2e-1,+200\n",
        "strain [%]; stress [MPa]\n0,1; 100,5\n0.2; 200\n",
        "strain [%]\tstress [MPa]\n0,1\t100,5\n0,2\t200\n",
        "\xEF\xBB\xBFstrain (%),stress (MPa)\r\n.1,100.5\r\n.2,200\r\n",
        "strain [%],stress [MPa]\r0.1,100.5\r0.2,200\r",
        "# made by hand\n\n\"strain [%]\",\"stress [MPa]\"\n0.1,\"100.5\"\n# end\n0.2,200\n"}) {
    const auto table = parse_number_table(text, "test.csv");
    EXPECT_THAT(numbers_in(table, column_with(table, "strain", "")), ElementsAre(0.1, 0.2)) << text;
    EXPECT_THAT(numbers_in(table, column_with(table, "stress", "")), ElementsAre(100.5, 200)) << text;
    EXPECT_EQ(table.columns[0].unit, "%");
    EXPECT_DOUBLE_EQ(strain_factor(table, 0), 0.01);
  }
}

TEST(NumberTable, TextInOtherColumnsDoesNotMatter) {
  const auto table = parse_number_table("lot,stress [MPa]\nA-1,100\nA-1,200\n", "test.csv");
  EXPECT_THAT(numbers_in(table, 1), ElementsAre(100, 200));
}

TEST(NumberTable, RefusesWithLineAndMend) {
  const auto text = refusal("strain [%],stress [MPa]\n0.1,100\n\n0.2,45 ksi\n");
  EXPECT_EQ(text.line, 4);
  EXPECT_EQ(text.found, "45 ksi");
  EXPECT_THAT(text.mend, HasSubstr("unit stands in the heading"));
  EXPECT_EQ(refusal("strain [%],stress [MPa]\n0.1,\n").found, "nothing");
  EXPECT_EQ(refusal("strain [%],stress [MPa]\n0.1,nan\n").found, "nan");
  EXPECT_EQ(refusal("strain [%];stress [MPa]\n0,1;1.000,5\n").found, "1.000,5");

  // a decimal comma with commas between the columns
  const auto comma = refusal("strain [%],stress [MPa]\n0,1,100,5\n");
  EXPECT_EQ(comma.line, 2);
  EXPECT_EQ(comma.found, "4 cells");
  EXPECT_THAT(comma.mend, HasSubstr("semicolons"));

  EXPECT_THAT(refusal("0.1,100\n0.2,200\n").allowed, HasSubstr("headings"));
  EXPECT_EQ(refusal("e2,e1\n0.2,200\n").found, "headings e2, e1");
  EXPECT_THAT(refusal("1e-3,1E2\n0.2,200\n").allowed, HasSubstr("headings"));
  EXPECT_THAT(refusal(std::string("s\0t\0", 4)).mend, HasSubstr("UTF-8"));
  EXPECT_EQ(refusal("").found, "no lines");
  EXPECT_THAT(refusal("strain [%],load [N]\n0,1\n").mend, HasSubstr("for example stress [MPa]"));
  const auto two = refusal("stress [ksi],stress [MPa],strain [%]\n1,2,3\n");
  EXPECT_EQ(two.line, 1);
  EXPECT_THAT(two.mend, HasSubstr("one unit"));
  EXPECT_THROW(strain_factor(parse_number_table("strain [mil]\n1\n", "t"), 0), CaseError);
  EXPECT_THROW(read_number_table("/nowhere/at/all.csv"), CaseError);
}

TEST(NumberTable, NamesTheSignBetweenThousands) {
  for (const char* cell : {"\"1,256.5\"", "\"12,256\"", "1'256.5", "1 256.5"}) try {
      numbers_in(parse_number_table("stress [MPa], lot\n" + std::string(cell) + ", A\n", "test.csv"), 0);
      ADD_FAILURE() << "accepted: " << cell;
    } catch (const CaseError& error) {
      EXPECT_EQ(error.problems().front().mend, "leave out the sign between the thousands") << cell;
    }
}

TEST(NumberTable, TellsOneMistakeAllDownAColumnOnce) {
  std::string text = "stress [MPa]\n";
  for (int i = 0; i < 216; ++i) text += "x" + std::to_string(i) + '\n';
  try {
    numbers_in(parse_number_table(text, "test.csv"), 0);
    FAIL() << "accepted";
  } catch (const CaseError& error) {
    ASSERT_EQ(error.problems().size(), 1U);
    EXPECT_EQ(error.problems().front().line, 2);
    EXPECT_EQ(error.problems().front().found, "x0, and 215 cells below that are no numbers");
  }
}

TEST(NumberTable, ReportsAllBadCellsAtOnce) {
  const auto table = parse_number_table("stress [MPa]\na\n1\nb\n", "test.csv");
  try {
    numbers_in(table, 0);
    FAIL() << "accepted";
  } catch (const CaseError& error) {
    ASSERT_EQ(error.problems().size(), 2U);
    EXPECT_EQ(error.problems()[1].line, 4);
  }
}

}  // namespace
}  // namespace halftool::io
