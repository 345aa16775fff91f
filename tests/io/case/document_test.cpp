#include "io/case/document.hpp"

#include <gtest/gtest.h>

#include "io/case/case_error.hpp"

namespace halftool::io {
namespace {

TEST(Document, KeepsKindsOrderAndLines) {
  const auto root =
      parse_document("b = 1\na = [\n  \"x\",\n  2.5]\n[t]\nflag = true\nwhen = 2020-01-01\n", "f.toml");
  ASSERT_EQ(root.entries.size(), 3U);
  EXPECT_EQ(root.entries[0].key, "b");
  EXPECT_EQ(root.entries[0].value.integer, 1);
  const Node* list = root.find("a");
  ASSERT_NE(list, nullptr);
  EXPECT_EQ(list->line, 2);
  EXPECT_EQ(list->items[0].line, 3);
  EXPECT_EQ(list->items[1].line, 4);
  EXPECT_EQ(list->items[1].real, 2.5);
  EXPECT_EQ(root.find("t")->line, 5);
  EXPECT_TRUE(root.find("t")->find("flag")->flag);
  EXPECT_EQ(root.find("t")->find("when")->kind, Node::Kind::date);
  EXPECT_EQ(root.find("c"), nullptr);
}

TEST(Document, SaysWhereTextIsNoToml) {
  try {
    parse_document("a = 1\nb = = 2\n", "f.toml");
    FAIL() << "accepted";
  } catch (const CaseError& error) {
    ASSERT_EQ(error.problems().size(), 1U);
    EXPECT_EQ(error.problems()[0].file, "f.toml");
    EXPECT_EQ(error.problems()[0].line, 2);
  }
}

TEST(Document, NamesTheKeyOfANumberThatBeginsWithItsPoint) {
  for (const char* text : {"a = 1\n  s45 = .98\n", "a = 1\ns45 = [1, .98]\n", "a = 1\ns45 = -.98\n",
                           "a = 1\nt = { r = 2, s45 = .98 }\n"})
    try {
      parse_document(text, "f.toml");
      ADD_FAILURE() << "accepted: " << text;
    } catch (const CaseError& error) {
      const CaseProblem& problem = error.problems().front();
      EXPECT_EQ(problem.line, 2) << text;
      EXPECT_EQ(problem.key, "s45") << text;
      EXPECT_EQ(problem.found, ".98") << text;
      EXPECT_EQ(problem.mend, "write 0.98") << text;
    }
}

TEST(Document, PrintsShortened) {
  const auto root = parse_document(
      "a = [1, \"q\\\"q\", { x = 2.5, y = [] }, {}]\nb = \"" + std::string(100, 'e') + "\"\n", "f");
  EXPECT_EQ(print_node(*root.find("a")), R"([1, "q\"q", { x = 2.5, y = [] }, {}])");
  EXPECT_EQ(print_node(*root.find("b")), "\"" + std::string(56, 'e') + "...");
}

TEST(Document, CutsBetweenLettersOfUtf8) {
  std::string letters;
  for (int i = 0; i < 50; ++i) letters += "é";
  const auto text = print_node(*parse_document("a = \"" + letters + "\"\n", "f").find("a"));
  const auto tail = text.substr(text.size() - 5);
  EXPECT_EQ(tail, "é...");
}

TEST(Document, QuotedTextReadsBack) {
  const std::string text = "tab\t \"quote\" back\\slash \x01 é\n";
  const auto root = parse_document("a = " + toml_text(text) + "\n", "f");
  EXPECT_EQ(root.find("a")->text, text);
}

}  // namespace
}  // namespace halftool::io
