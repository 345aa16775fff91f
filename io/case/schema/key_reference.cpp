#include "io/case/schema/key_reference.hpp"

#include <fmt/format.h>

#include "io/case/key_path.hpp"
#include "io/case/schema/schema.hpp"
#include "io/case/schema/value.hpp"

namespace halftool::io {
namespace {

/// A fresh case in which the key has a place.
Case case_with(const KeySpec& spec) {
  Case fresh;
  const auto path = spec.belongs_to.empty() ? spec.path : spec.belongs_to.front();
  for (const auto& choice : schema().choices)
    for (size_t i = 0; i < choice.members.size(); ++i)
      if (is_within(path, choice.table + "." + choice.members[i])) choice.choose(fresh, i);
  if (const auto* list = schema().list_of(spec.path)) list->resize(fresh, 1);
  return fresh;
}

std::string default_text(const KeySpec& spec) {
  if (spec.required) return "required";
  const auto value = spec.access.get(case_with(spec), 0).value();
  if (std::holds_alternative<std::monostate>(value)) return "not set";
  return print_value(value, spec);
}

std::string takes_text(const KeySpec& spec) {
  auto text = kind_text(spec);
  const auto hard = range_text(spec.hard, spec);
  const auto usual = range_text(spec.usual, spec);
  if (!hard.empty()) text += ", " + hard;
  if (!usual.empty()) text += fmt::format(" (usually {})", usual);
  return text;
}

std::string meaning_text(const KeySpec& spec) {
  if (spec.belongs_to.empty()) return spec.about;
  std::vector<std::string> owners;
  for (const auto& owner : spec.belongs_to) owners.push_back(leaf_of(owner));
  return fmt::format("{} (beside {})", spec.about, fmt::join(owners, " or "));
}

std::string heading_text(const std::string& table) {
  if (table.empty()) return "at the top";
  return table.ends_with("[]") ? fmt::format("[[{}]]", table.substr(0, table.size() - 2))
                               : fmt::format("[{}]", table);
}

/// "exactly one of rectangle, circle ..." under the table that holds choices; empty elsewhere.
std::string choice_text(const std::string& table) {
  std::vector<std::string> choices;
  for (const auto& choice : schema().choices)
    if (choice.table == table)
      choices.push_back(fmt::format("{}: {} one of {}", choice.about, choice.optional ? "at most" : "exactly",
                                    fmt::join(choice.members, ", ")));
  return fmt::format("{}", fmt::join(choices, "; "));
}

/// Calls begin(table) at each new table and row(spec) for each key.
template <class Begin, class Row>
void walk_keys(Begin begin, Row row) {
  const std::string* previous = nullptr;
  std::string table;
  for (const auto& spec : schema().keys) {
    if (previous == nullptr || parent_of(spec.path) != table) begin(table = parent_of(spec.path));
    previous = &spec.path;
    row(spec);
  }
}

}  // namespace

std::string print_key_reference() {
  std::string text;
  walk_keys(
      [&](const std::string& table) {
        text += fmt::format("{}{}\n", text.empty() ? "" : "\n", heading_text(table));
        const auto choice = choice_text(table);
        if (!choice.empty()) text += fmt::format("  ({})\n", choice);
      },
      [&](const KeySpec& spec) {
        const auto value = default_text(spec);
        text += fmt::format("  {:<20} {}\n", leaf_of(spec.path), meaning_text(spec));
        text += fmt::format("  {:<20} takes {}; {}\n", "", takes_text(spec),
                            spec.required || value == "not set" ? value : "default " + value);
      });
  return text;
}

std::string print_key_reference_markdown() {
  std::string text;
  walk_keys(
      [&](const std::string& table) {
        text += table.empty() ? "At the top\n\n" : fmt::format("\n`{}`\n\n", heading_text(table));
        const auto choice = choice_text(table);
        if (!choice.empty()) text += fmt::format("{}.\n\n", choice);
        text += "| key | takes | default | meaning |\n|---|---|---|---|\n";
      },
      [&](const KeySpec& spec) {
        const auto value = default_text(spec);
        const bool bare = spec.required || value == "not set";
        text += fmt::format("| `{}` | {} | {} | {} |\n", leaf_of(spec.path), takes_text(spec),
                            bare ? value : "`" + value + "`", meaning_text(spec));
      });
  return text;
}

}  // namespace halftool::io
