#include "io/case/reading/unknown_keys.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/key_path.hpp"
#include "io/case/nearest_word.hpp"
#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

std::string below(const std::string& parent, const std::string& key) {
  return parent.empty() ? key : parent + "." + key;
}

/// The name that stands directly below the pattern on the way to a key; empty if the key is elsewhere.
std::string child_of(const std::string& pattern, const std::string& path) {
  if (!pattern.empty() && !path.starts_with(pattern + ".")) return {};
  const auto rest = path.substr(pattern.empty() ? 0 : pattern.size() + 1);
  const auto name = rest.substr(0, rest.find('.'));
  return name.ends_with("[]") ? name.substr(0, name.size() - 2) : name;
}

std::vector<std::string> children_of(const std::string& pattern) {
  std::vector<std::string> names;
  for (const auto& key : schema().keys) {
    const auto name = child_of(pattern, key.path);
    if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

/// A key of the same name, or nearly so, anywhere else.
std::string key_elsewhere(const std::string& name) {
  std::vector<std::string> leaves;
  for (const auto& key : schema().keys) leaves.push_back(leaf_of(key.path));
  const auto nearest = nearest_word(name, leaves);
  for (const auto& key : schema().keys)
    if (!nearest.empty() && leaf_of(key.path) == nearest) return key.path;
  return {};
}

class UnknownKeys {
 public:
  explicit UnknownKeys(Findings& findings) : findings_(findings) {}

  /// @param pattern  path as in the schema, with [] for list members
  /// @param key      the same with numbers, for messages
  void walk(const Node& table, const std::string& pattern, const std::string& key) {
    const auto known = children_of(pattern);
    for (const auto& [name, value] : table.entries) {
      if (std::find(known.begin(), known.end(), name) == known.end())
        report_unknown(value.line, pattern, key, name, known);
      else
        enter(value, below(pattern, name), below(key, name));
    }
  }

  std::set<std::string> meant() && { return std::move(meant_); }

 private:
  void enter(const Node& value, const std::string& pattern, const std::string& key) {
    const auto& keys = schema().keys;
    const auto starts = [&](const std::string& prefix) {
      return std::any_of(keys.begin(), keys.end(),
                         [&](const KeySpec& k) { return k.path.starts_with(prefix); });
    };
    if (starts(pattern + ".")) {
      if (value.kind == Node::Kind::table)
        walk(value, pattern, key);
      else
        report_no_table(value, key);
    } else if (starts(pattern + "[].")) {
      enter_list(value, pattern, key);
    }
  }

  void report_no_table(const Node& value, const std::string& key) {
    const bool stock_name = key == "sheet.material" && value.kind == Node::Kind::text;
    findings_.error(value.line, key, print_node(value), fmt::format("a table [{}]", key),
                    stock_name
                        ? fmt::format("write [sheet.material] on a line of its own and stock = {} below",
                                      toml_text(value.text))
                        : fmt::format("write [{}] on a line of its own and its keys below", key));
  }

  void enter_list(const Node& value, const std::string& pattern, const std::string& key) {
    const bool tables = value.kind == Node::Kind::list &&
                        std::all_of(value.items.begin(), value.items.end(),
                                    [](const Node& n) { return n.kind == Node::Kind::table; });
    if (!tables) {
      findings_.error(value.line, key, print_node(value), fmt::format("tables [[{}]]", key),
                      fmt::format("write [[{}]], with two brackets, above each", key));
      return;
    }
    for (size_t i = 0; i < value.items.size(); ++i)
      walk(value.items[i], pattern + "[]", fmt::format("{}[{}]", key, i + 1));
  }

  void report_unknown(int line, const std::string& pattern, const std::string& key, const std::string& name,
                      const std::vector<std::string>& known) {
    auto nearest = nearest_word(name, known);
    if (!nearest.empty()) meant_.insert(below(key, nearest));
    if (nearest.empty()) {
      nearest = key_elsewhere(name);
      if (!nearest.empty()) meant_.insert(nearest);
    }
    findings_.error(
        line, below(key, name), "an unknown key",
        fmt::format("{}: {}", pattern.empty() ? "at the top" : "[" + pattern + "]", fmt::join(known, ", ")),
        nearest.empty() ? "leave it out" : fmt::format("did you mean {}?", nearest));
  }

  Findings& findings_;
  std::set<std::string> meant_;
};

}  // namespace

std::set<std::string> report_unknown_keys(const Node& root, Findings& findings) {
  UnknownKeys search(findings);
  search.walk(root, "", "");
  return std::move(search).meant();
}

}  // namespace halftool::io
