#include "io/case/nearest_word.hpp"

#include <gtest/gtest.h>

namespace halftool::io {
namespace {

TEST(EditDistance, CountsEditsAndNotLetterCase) {
  EXPECT_EQ(edit_distance("thickness", "thickness"), 0);
  EXPECT_EQ(edit_distance("thicknes", "thickness"), 1);
  EXPECT_EQ(edit_distance("thikcness", "thickness"), 1);  // neighbours swapped
  EXPECT_EQ(edit_distance("mpa", "MPa"), 0);
  EXPECT_EQ(edit_distance("", "abc"), 3);
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3);
}

TEST(NearestWord, OffersOnlyWhatIsNear) {
  const std::vector<std::string> words{"thickness", "rolling", "material"};
  EXPECT_EQ(nearest_word("thicknes", words), "thickness");
  EXPECT_EQ(nearest_word("Rolling", words), "rolling");
  EXPECT_EQ(nearest_word("colour", words), "");
  EXPECT_EQ(nearest_word("x", {"m"}), "");
  EXPECT_EQ(nearest_word("", words), "");
}

}  // namespace
}  // namespace halftool::io
