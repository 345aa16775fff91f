#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <set>

#include "io/case/key_path.hpp"
#include "io/case/schema/schema.hpp"
#include "tests/io/case/case_samples.hpp"

namespace halftool::io {
namespace {

void expect_same(double a, double b, const std::string& key) {
  EXPECT_NEAR(a, b, 4e-16 * std::abs(a)) << key;
}

void expect_same(const Value& a, const Value& b, const std::string& key) {
  ASSERT_EQ(a.index(), b.index()) << key;
  if (std::holds_alternative<double>(a)) {
    expect_same(std::get<double>(a), std::get<double>(b), key);
  } else if (const auto* lengths = std::get_if<std::vector<double>>(&a)) {
    const auto& others = std::get<std::vector<double>>(b);
    ASSERT_EQ(lengths->size(), others.size()) << key;
    for (size_t i = 0; i < others.size(); ++i) expect_same((*lengths)[i], others[i], key);
  } else if (const auto* pairs = std::get_if<std::vector<Pair>>(&a)) {
    const auto& others = std::get<std::vector<Pair>>(b);
    ASSERT_EQ(pairs->size(), others.size()) << key;
    for (size_t i = 0; i < others.size(); ++i)
      for (const size_t k : {0U, 1U}) expect_same((*pairs)[i][k], others[i][k], key);
  } else {
    EXPECT_TRUE(a == b) << key;
  }
}

/// Compares two cases key by key; returns the keys that have a place in them.
std::set<std::string> expect_same_case(const Case& a, const Case& b) {
  std::set<std::string> seen;
  for (const auto& spec : schema().keys) {
    const auto* list = schema().list_of(spec.path);
    const size_t n = list == nullptr ? 1 : list->size(a);
    EXPECT_EQ(n, list == nullptr ? 1 : list->size(b)) << spec.path;
    for (size_t i = 0; i < n; ++i) {
      const auto value = spec.access.get(a, static_cast<int>(i));
      const auto other = spec.access.get(b, static_cast<int>(i));
      EXPECT_EQ(value.has_value(), other.has_value()) << spec.path;
      if (!value || !other) continue;
      expect_same(*value, *other, spec.path);
      seen.insert(spec.path);
    }
  }
  return seen;
}

std::string without_comments(const std::string& text) {
  std::string bare = text;
  for (auto at = bare.find("  # default"); at != std::string::npos; at = bare.find("  # default"))
    bare.erase(at, 11);
  for (auto at = bare.find("  # stock"); at != std::string::npos; at = bare.find("  # stock"))
    bare.erase(at, 9);
  return bare;
}

TEST(PrintCase, ThePrintedCaseGivesTheSameCaseAndCoversEveryKey) {
  std::set<std::string> seen;
  for (const auto& text : samples::all()) {
    const auto job = samples::parse(text);
    const auto printed = print_case(job);
    const auto again = samples::parse(printed);
    seen.merge(expect_same_case(job, again));
    EXPECT_EQ(without_comments(print_case(again)), without_comments(printed));
  }
  for (const auto& spec : schema().keys)
    EXPECT_TRUE(seen.contains(spec.path)) << spec.path << " stands in no sample";
}

TEST(PrintCase, MarksDefaults) {
  const auto printed = print_case(samples::parse(samples::bracket));
  EXPECT_NE(printed.find("thickness = \"1.6 mm\"\n"), std::string::npos);
  EXPECT_NE(printed.find("turn = \"0 deg\"  # default\n"), std::string::npos);
  EXPECT_NE(printed.find("layers = 7  # default\n"), std::string::npos);
}

TEST(PrintCase, WritesPathsRelativeToWhereTheTextWillLie) {
  const auto job = samples::parse(samples::all()[3]);
  EXPECT_NE(print_case(job).find("step = \"tool.step\"\n"), std::string::npos);
  const auto below = print_case(job, job.file.parent_path() / "results");
  EXPECT_NE(below.find("step = \"../tool.step\"\n"), std::string::npos);
}

}  // namespace
}  // namespace halftool::io
