#include "io/case/key_path.hpp"

#include <gtest/gtest.h>

namespace halftool::io {
namespace {

TEST(KeyPath, NumbersListsFromOne) {
  EXPECT_EQ(numbered("blank.hole[].at", 1), "blank.hole[2].at");
  EXPECT_EQ(numbered("sheet.thickness", 0), "sheet.thickness");
  EXPECT_EQ(parent_of("blank.hole[].at"), "blank.hole[]");
  EXPECT_EQ(leaf_of("blank.hole[].at"), "at");
  EXPECT_EQ(parent_of("title"), "");
  EXPECT_EQ(leaf_of("title"), "title");
}

TEST(KeyPath, FindsValues) {
  const auto root = parse_document("t = 1\n[[blank.hole]]\nat = 1\n[[blank.hole]]\nat = 2\n", "f");
  ASSERT_NE(node_at(root, "blank.hole[2].at"), nullptr);
  EXPECT_EQ(node_at(root, "blank.hole[2].at")->integer, 2);
  EXPECT_EQ(node_at(root, "blank.hole[3].at"), nullptr);
  EXPECT_EQ(node_at(root, "blank.hole[0].at"), nullptr);
  EXPECT_EQ(node_at(root, "t.x.y"), nullptr);
  EXPECT_EQ(node_at(root, ""), &root);
}

TEST(KeyPath, KnowsWhatLiesWithin) {
  EXPECT_TRUE(is_within("tool.block.width", "tool"));
  EXPECT_TRUE(is_within("tool.block.width", "tool.block.width"));
  EXPECT_TRUE(is_within("blank.hole[1].at", "blank.hole"));
  EXPECT_FALSE(is_within("tool.blocks", "tool.block"));
  EXPECT_FALSE(is_within("tool", "tool.block"));
}

}  // namespace
}  // namespace halftool::io
