#include "io/case/schema/schema.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "io/case/key_path.hpp"
#include "tests/io/case/case_samples.hpp"

namespace halftool::io {
namespace {

/// A number of the key's dimension as it would be written.
std::string written(double value, const KeySpec& spec) {
  const auto dimension = dimension_of(spec.kind);
  if (spec.kind == ValueKind::count) return std::to_string(std::lround(value));
  if (!dimension || (*dimension == Dimension::ratio && spec.unit.empty())) return print_number(value);
  return '"' + print_exactly(value, *dimension, spec.unit) + '"';
}

/// The number in the form that the kind of the key asks for.
std::string in_form(const std::string& number, const KeySpec& spec) {
  const size_t n = spec.n_items == 0 ? 1 : spec.n_items;
  std::string list;
  for (size_t i = 0; i < n; ++i) list += (i == 0 ? "" : ", ") + number;
  if (spec.kind == ValueKind::lengths || spec.kind == ValueKind::ratios) return "[" + list + "]";
  if (spec.kind == ValueKind::flow_curve) return "[[0, \"40 MPa\"], [0.1, " + number + "]]";
  if (spec.kind == ValueKind::strains) return "[[" + number + ", 0.4], [0.2, " + number + "]]";
  if (spec.kind == ValueKind::points)
    return "[[" + number + ", \"0 mm\"], [\"500 mm\", \"0 mm\"], [\"0 mm\", \"500 mm\"]]";
  return number;
}

/// Values just outside the hard range.
std::vector<std::string> out_of_range(const KeySpec& spec) {
  std::vector<std::string> values;
  const auto& [least, most, least_open, most_open] = spec.hard;
  const double step = spec.kind == ValueKind::count ? 1 : 1e-3 * std::max(std::abs(least), 1e-3);
  if (std::isfinite(least)) values.push_back(in_form(written(least - step, spec), spec));
  if (std::isfinite(least) && least_open) values.push_back(in_form(written(least, spec), spec));
  if (std::isfinite(most))
    values.push_back(
        in_form(written(spec.kind == ValueKind::count ? most + 1 : 1.001 * most + 1e-6, spec), spec));
  if (std::isfinite(most) && most_open) values.push_back(in_form(written(most, spec), spec));
  return values;
}

/// Values of the wrong kind, unit or word.
std::vector<std::string> of_wrong_kind(const KeySpec& spec) {
  std::vector<std::string> values{"2020-01-01", "{ a = 1 }", "[[[1]]]"};
  if (spec.kind != ValueKind::flag) values.emplace_back("true");
  if (spec.kind != ValueKind::text && spec.kind != ValueKind::path) values.emplace_back("\"nonsense\"");
  if (spec.kind == ValueKind::text || spec.kind == ValueKind::path || spec.kind == ValueKind::flag)
    values.emplace_back("3");
  const auto dimension = dimension_of(spec.kind);
  if (dimension && dimension != Dimension::ratio) {
    values.push_back(in_form("3", spec));
    values.push_back(in_form("\"3\"", spec));
    values.push_back(in_form("\"3 furlong\"", spec));
    values.push_back(in_form(dimension == Dimension::length ? "\"3 MPa\"" : "\"3 mm\"", spec));
  }
  if (spec.kind == ValueKind::words) values.emplace_back("[\"nonsense\"]");
  if (dimension || spec.kind == ValueKind::number) values.push_back(in_form("nan", spec));
  return values;
}

class EveryKey : public testing::TestWithParam<std::string> {};

TEST_P(EveryKey, RefusesWrongValuesAtItsOwnPlace) {
  const auto& keys = schema().keys;
  const auto spec =
      std::find_if(keys.begin(), keys.end(), [](const KeySpec& k) { return k.path == GetParam(); });
  std::string good;
  for (const auto& sample : samples::all()) {
    const auto printed = print_case(samples::parse(sample));
    if (!samples::with_value(printed, spec->path, "1").empty()) good = printed;
  }
  ASSERT_FALSE(good.empty()) << "no sample holds the key";
  auto wrong = of_wrong_kind(*spec);
  for (auto& value : out_of_range(*spec)) wrong.push_back(std::move(value));
  for (const auto& value : wrong) {
    try {
      samples::parse(samples::with_value(good, spec->path, value));
      ADD_FAILURE() << "accepted " << value;
    } catch (const CaseError& error) {
      EXPECT_FALSE(error.problems().empty());
      for (const auto& problem : error.problems()) {
        EXPECT_TRUE(is_within(problem.key, numbered(spec->path, 0))) << print_problem(problem);
        EXPECT_GT(problem.line, 0) << value;
        EXPECT_FALSE(problem.allowed.empty()) << value;
        EXPECT_FALSE(problem.mend.empty()) << value;
      }
    }
  }
}

std::vector<std::string> paths() {
  std::vector<std::string> all;
  for (const auto& key : schema().keys) all.push_back(key.path);
  return all;
}

INSTANTIATE_TEST_SUITE_P(Schema, EveryKey, testing::ValuesIn(paths()), [](const auto& tested) {
  std::string name;
  for (const char c : tested.param) name += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
  return name;
});

TEST(Schema, DefaultsOfTheMethodAreUsual) {
  const Case fresh;
  int seen = 0;
  for (const KeySpec& spec : schema().keys) {
    if (!spec.path.starts_with("method.")) continue;
    const auto value = spec.access.get(fresh, 0);
    const double* number = value ? std::get_if<double>(&*value) : nullptr;
    if (!number) continue;
    EXPECT_TRUE(spec.usual.holds(*number)) << spec.path << " " << *number;
    EXPECT_TRUE(spec.hard.holds(*number)) << spec.path << " " << *number;
    ++seen;
  }
  EXPECT_GT(seen, 4);
}

TEST(Schema, DescribesEveryKey) {
  std::set<std::string> seen;
  for (const auto& key : schema().keys) {
    EXPECT_TRUE(seen.insert(key.path).second) << key.path << " stands twice";
    EXPECT_FALSE(key.about.empty()) << key.path;
    const bool has_words = key.kind == ValueKind::word || key.kind == ValueKind::words;
    EXPECT_EQ(has_words, !key.words.empty()) << key.path;
    EXPECT_LE(key.hard.least, key.hard.most) << key.path;
    const bool numeric =
        dimension_of(key.kind) || key.kind == ValueKind::number || key.kind == ValueKind::count;
    EXPECT_EQ(numeric, std::isfinite(key.hard.least)) << key.path << " has no range";
  }
}

TEST(Schema, KeepsTheKeysOfATableTogether) {
  std::set<std::string> closed;
  std::string open;
  for (const auto& key : schema().keys) {
    if (parent_of(key.path) == open) continue;
    closed.insert(open);
    open = parent_of(key.path);
    EXPECT_FALSE(closed.contains(open)) << key.path << " stands apart from its table";
  }
}

}  // namespace
}  // namespace halftool::io
