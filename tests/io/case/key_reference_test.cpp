#include "io/case/schema/key_reference.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/case/key_path.hpp"
#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

using testing::HasSubstr;

TEST(KeyReference, NamesEveryKeyWithItsMeaning) {
  const auto text = print_key_reference();
  const auto markdown = print_key_reference_markdown();
  for (const auto& key : schema().keys) {
    EXPECT_THAT(text, HasSubstr(leaf_of(key.path) + " "));
    EXPECT_THAT(text, HasSubstr(key.about));
    EXPECT_THAT(markdown, HasSubstr("| `" + leaf_of(key.path) + "` |"));
  }
}

TEST(KeyReference, GivesRangesAndDefaultsOfTheSpecs) {
  const auto text = print_key_reference();
  EXPECT_THAT(text, HasSubstr("takes a length, 0.1 mm to 12 mm (usually 0.3 mm to 6 mm); required"));
  EXPECT_THAT(text, HasSubstr("takes a whole number, 2 to 51 (usually 7 to 25); default " +
                              std::to_string(solver::SolverSettings{}.layers)));
  EXPECT_THAT(text, HasSubstr("default \"90 deg\""));
  EXPECT_THAT(text, HasSubstr("takes a list of 3 numbers, above 0 and up to 20 (usually 0.2 to 5); not set"));
  EXPECT_THAT(text, HasSubstr("exactly one of block, cylinder, cavity, step, stl"));
  EXPECT_THAT(
      print_key_reference_markdown(),
      HasSubstr("| `thinning` | a ratio, above 0 % and up to 90 % (usually 2 % to 50 %) | not set |"));
}

}  // namespace
}  // namespace halftool::io
