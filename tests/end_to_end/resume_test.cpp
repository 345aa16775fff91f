// Pressings that are broken off and taken up again.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "io/cli/exit_code.hpp"
#include "io/cli/run_folder.hpp"
#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"

namespace halftool::test {
namespace {

namespace fs = std::filesystem;
using io::as_int;
using io::ExitCode;
using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;

class Resume : public Program {
 protected:
  [[nodiscard]] fs::path checkpoint(const std::string& folder) const {
    return work() / folder / io::kCheckpointName;
  }
  void stop_at(const std::string& said, const std::vector<std::string>& more = {}) const {
    std::vector<std::string> command = {"press", "case.toml", "--out", "broken"};
    command.insert(command.end(), more.begin(), more.end());
    const Answer answer = interrupt_at(said, command);
    ASSERT_EQ(answer.code, as_int(ExitCode::stopped)) << answer.err;
    EXPECT_EQ(answer.err.find("goes on from") != std::string::npos, !more.empty());
    EXPECT_TRUE(fs::exists(checkpoint("broken")));
    EXPECT_THAT(text_of(work() / "broken" / "NOT-COMPLETE.txt"), HasSubstr("--resume"));
  }
  /// A summary without times and memory, which differ from run to run.
  [[nodiscard]] json numbers_of(const std::string& folder) const {
    json summary = json::parse(text_of(work() / folder / "summary.json"));
    summary.erase("time");
    summary.erase("memory");
    return summary;
  }
  void expect_same_results(const std::string& a, const std::string& b) const {
    EXPECT_EQ(numbers_of(a), numbers_of(b));
    for (const char* file : {"formed.vtu", "released.vtu", "pressing.pvd"})
      EXPECT_EQ(text_of(work() / a / file), text_of(work() / b / file)) << file;
  }
};

const std::string kJudged = "[limits]\nforming_limit = \"estimate\"\n[outputs]\npictures = false\n";

// Stopped as soon as it moves, again after it was taken up, between its steps, within the second one on the
// trimmed sheet, and in the release: each time it goes on as if nothing had been.
TEST_F(Resume, GoesOnToTheSameBits) {
  std::string text =
      bracket("3 MPa",
              "name = \"first\"\n[[step]]\npressure = \"6 MPa\"\n[[trim]]\nafter_step = \"first\"\nalong = "
              "\"y\"\npolygon = [[\"-60 mm\", \"25 mm\"], [\"60 mm\", \"25 mm\"], [\"60 mm\", \"60 mm\"], "
              "[\"-60 mm\", \"60 mm\"]]\n" +
                  kJudged);
  const std::string law = "exponent = 0.20 }";  // hardens kinematically, so that there is a history to carry
  text.insert(text.find(law) + law.size(), "\nbackstress = [[50, \"1 GPa\"]]");
  write("case.toml", text);
  const Answer whole = run({"press", "case.toml", "--out", "whole", "--quiet"});
  ASSERT_LE(whole.code, as_int(ExitCode::limit_passed)) << whole.err;
  EXPECT_FALSE(fs::exists(checkpoint("whole")));

  stop_at("pressing");
  stop_at("pressing", {"--resume"});
  stop_at("step 2 of 2", {"--resume", "--threads", "2"});  // the number of threads may change
  stop_at("pressing", {"--resume"});
  stop_at("release", {"--resume"});
  const Answer last = run({"press", "case.toml", "--out", "broken", "--resume", "--quiet"});
  EXPECT_EQ(last.code, whole.code) << last.err;
  expect_same_results("whole", "broken");
  EXPECT_FALSE(fs::exists(checkpoint("broken")));
  EXPECT_FALSE(fs::exists(work() / "broken" / "NOT-COMPLETE.txt"));
}

TEST_F(Resume, RefusesAnotherCaseAndLeavesTheRunAsItWas) {
  write("case.toml", bracket("3 MPa", kJudged));
  stop_at("pressing");
  write("case.toml", bracket("4 MPa", kJudged));
  const std::vector<std::string> command = {"press", "case.toml", "--out", "broken", "--resume"};
  const Answer other = run(command);
  EXPECT_EQ(other.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(other.err, AllOf(HasSubstr("then  [[step]] pressure = "), HasSubstr("\"3 MPa\"")));
  EXPECT_THAT(other.err, AllOf(HasSubstr("now   [[step]] pressure = "), HasSubstr("\"4 MPa\"")));
  EXPECT_TRUE(fs::exists(checkpoint("broken")));

  std::string longer = bracket("3 MPa", kJudged);
  longer.replace(longer.find("92 mm"), 5, "93 mm");
  write("case.toml", longer);
  EXPECT_THAT(run(command).err, HasSubstr("93 mm"));

  write("case.toml", bracket("3 MPa", kJudged));
  fs::resize_file(checkpoint("broken"), fs::file_size(checkpoint("broken")) / 2);
  const Answer damaged = run(command);
  EXPECT_EQ(damaged.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(damaged.err, HasSubstr("is damaged"));
}

TEST_F(Resume, SaysWhenThereIsNothingToGoOnWithAndWhenThereIs) {
  write("case.toml", bracket("3 MPa", kJudged));
  const Answer nothing = run({"press", "case.toml", "--out", "broken", "--resume"});
  EXPECT_EQ(nothing.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(nothing.err, HasSubstr("press without --resume"));
  stop_at("pressing");
  const Answer anew = run({"press", "case.toml", "--out", "broken"});
  EXPECT_EQ(anew.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(anew.err, HasSubstr("--resume to go on"));
}

}  // namespace
}  // namespace halftool::test
