// Measured forming limits from a file: what is read, and that faults are named with the file's own lines.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/io/case/case_samples.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

using testing::HasSubstr;

class LimitFile : public testing::Test {
 protected:
  /// The bracket with a limit in a file of this content.
  [[nodiscard]] Case read(const std::string& content, const std::string& keys = "") const {
    std::ofstream(folder_.path() / "limit.csv") << content;
    std::string text = samples::bracket;
    const std::string none = "forming_limit = \"none\"\n";
    text.erase(text.find(none), none.size());
    return parse_case(text + "[sheet.forming_limit]\nfile = \"limit.csv\"\nsource = \"invented\"\n" +
                          (keys.empty() ? "strain = \"engineering\"\n" : keys),
                      folder_.path() / "case.toml");
  }
  [[nodiscard]] CaseProblem refusal(const std::string& content) const {
    try {
      (void)read(content);
    } catch (const CaseError& error) {
      EXPECT_EQ(error.problems().size(), 1U);
      return error.problems().front();
    }
    return {"", -1, "", "accepted", "", ""};
  }

 private:
  halftool::test::ScratchFolder folder_;
};

TEST_F(LimitFile, GivesItsPointsAndJudgesThePart) {
  const Case job = read("specimen; minor strain [%]; major strain [%]\nA; -20; 42\nB; 0; 28\nC; 25; 36,5\n");
  ASSERT_TRUE(job.limit_points.has_value());
  EXPECT_TRUE(job.limit_points->engineering);
  ASSERT_EQ(job.limit_points->points.size(), 3U);
  EXPECT_DOUBLE_EQ(job.limit_points->points[2][1], 0.365);
  EXPECT_EQ(job.limits.forming_limit, FormingLimit::measured);
  EXPECT_EQ(job.limit_points->grade, "user");
}

TEST_F(LimitFile, RefusesFaultsWithItsOwnLines) {
  const std::string head = "minor strain [%],major strain [%]\n";
  const auto order = refusal(head + "-20,42\n5,30\n0,28\n");
  EXPECT_THAT(order.file, HasSubstr("limit.csv"));
  EXPECT_EQ(order.line, 4);
  EXPECT_EQ(order.found, "minor strain 0 after 0.05");
  EXPECT_EQ(refusal(head + "-20,42\n0,28\n0,29\n").line, 4);
  EXPECT_EQ(refusal(head + "-20,42\n0,28 %\n").found, "28 %");
  EXPECT_EQ(refusal(head + "-20,42\n0,-28\n").line, 3);
  EXPECT_THAT(refusal("minor strain,major strain\n-20,42\n0,28\n").mend, HasSubstr("[%]"));
  EXPECT_THAT(refusal("minor [%],e1 [%]\n-20,42\n").mend, HasSubstr("major strain [%]"));
  EXPECT_THAT(refusal("minor true strain [%],major true strain [%]\n-20,42\n0,28\n").mend,
              HasSubstr("the heading or the key"));
}

}  // namespace
}  // namespace halftool::io
