// Each file of bad/ and doubtful/ is one mistake (job of the trade) and ends with the exact message, on lines
// "#> ".
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "io/case/case.hpp"

namespace halftool::io {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> files_of(const std::string& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(CASE_CORPUS) / folder))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

std::string text_of(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file).rdbuf();
  return text.str();
}

/// The message that the file itself asks for.
std::string expected_in(const std::string& text) {
  std::istringstream lines(text);
  std::string line;
  std::string expected;
  while (std::getline(lines, line)) {
    if (!line.starts_with("#>")) continue;
    expected += (expected.empty() ? "" : "\n") + (line.size() > 3 ? line.substr(3) : "");
  }
  return expected;
}

std::string name_of(const testing::TestParamInfo<fs::path>& info) {
  return info.param.stem().string();
}

class BadCase : public testing::TestWithParam<fs::path> {};

TEST_P(BadCase, IsRefusedWithItsMessage) {
  const auto text = text_of(GetParam());
  const auto expected = expected_in(text);
  ASSERT_FALSE(expected.empty());
  try {
    parse_case(text, GetParam().filename());
    FAIL() << "accepted";
  } catch (const CaseError& error) {
    EXPECT_EQ(std::string(error.what()), expected);
  }
}
INSTANTIATE_TEST_SUITE_P(Corpus, BadCase, testing::ValuesIn(files_of("bad")), name_of);

class DoubtfulCase : public testing::TestWithParam<fs::path> {};

TEST_P(DoubtfulCase, IsReadWithItsWarning) {
  const auto text = text_of(GetParam());
  const auto expected = expected_in(text);
  ASSERT_FALSE(expected.empty());
  const auto job = parse_case(text, GetParam().filename());
  EXPECT_EQ(print_problems(job.warnings), expected);
}
INSTANTIATE_TEST_SUITE_P(Corpus, DoubtfulCase, testing::ValuesIn(files_of("doubtful")), name_of);

TEST(Corpus, IsLargeEnough) {
  EXPECT_GE(files_of("bad").size(), 90U);
  EXPECT_GE(files_of("doubtful").size(), 14U);
}

}  // namespace
}  // namespace halftool::io
