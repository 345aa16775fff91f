// Every case that the project ships: it checks, and the complete case that is printed says the same.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "io/case/case.hpp"
#include "tests/end_to_end/program.hpp"

namespace halftool::test {
namespace {

namespace fs = std::filesystem;

/// The complete case without the remarks on what stood in the file.
std::string complete(const std::string& text, const fs::path& file) {
  return std::regex_replace(io::print_case(io::parse_case(text, file)), std::regex("  # default"), "");
}

class Cases : public Program {};

TEST_F(Cases, AllCheckAndPrintThemselvesCompleteWithoutSolving) {
  int n = 0;
  for (const auto& entry : fs::directory_iterator(SHIPPED_CASES)) {
    const fs::path file = entry.path() / "case.toml";
    if (!entry.is_directory()) continue;
    SCOPED_TRACE(file);
    const Answer answer = run({"check", file});
    EXPECT_EQ(answer.code, 0) << answer.err;
    EXPECT_EQ(complete(answer.out, file), complete(text_of(file), file));
    ++n;
  }
  EXPECT_GE(n, 4);
  EXPECT_TRUE(fs::is_empty(work()));
}

}  // namespace
}  // namespace halftool::test
