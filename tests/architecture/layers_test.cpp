// The project's own tree against the rules of its architecture.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/architecture/layer_rules.hpp"

namespace halftool::architecture {
namespace {

using testing::IsEmpty;

const std::vector<SourceFile>& sources() {
  static const std::vector<SourceFile> files = read_sources(HALFTOOL_SOURCE_DIR);
  return files;
}

TEST(Architecture, IsReadFromTheTree) {
  int includes = 0;
  for (const SourceFile& file : sources()) includes += static_cast<int>(file.includes.size());
  EXPECT_GT(sources().size(), 30U);
  EXPECT_GT(includes, 100);
}

TEST(Architecture, IncludesPointOneWay) {
  EXPECT_THAT(check_layers(sources()), IsEmpty());
}

TEST(Architecture, PartsOfSolverKeepTheirOrder) {
  EXPECT_THAT(check_solver_parts(sources()), IsEmpty());
}

TEST(Architecture, NothingIncludesItselfInACircle) {
  EXPECT_THAT(check_cycles(sources()), IsEmpty());
}

TEST(Architecture, LibrariesStayInTheirPlace) {
  EXPECT_THAT(check_libraries(sources()), IsEmpty());
}

TEST(Architecture, FilesAreShort) {
  EXPECT_THAT(check_lengths(sources()), IsEmpty());
}

TEST(Architecture, TopLevelIsAsAgreed) {
  EXPECT_THAT(check_top_level(top_level_entries(HALFTOOL_SOURCE_DIR)), IsEmpty());
}

}  // namespace
}  // namespace halftool::architecture
