#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace halftool::io {

struct Entry;

/// A value of a TOML document with the line that it stands on.
struct Node {
  enum class Kind { text, integer, real, flag, list, table, date };
  Kind kind = Kind::table;
  int line = 0;
  std::string text;            ///< of a text
  std::int64_t integer = 0;    ///< of an integer
  double real = 0;             ///< of a real
  bool flag = false;           ///< of a flag
  std::vector<Node> items;     ///< of a list
  std::vector<Entry> entries;  ///< of a table, in the order of the file

  /// The value under a key of this table, or null.
  [[nodiscard]] const Node* find(std::string_view key) const;
};

/// One key of a table.
struct Entry {
  std::string key;
  Node value;
};

/// Reads TOML (version 1.0).
/// @param file  name for messages
/// @throws CaseError  text that is not TOML
Node parse_document(std::string_view text, const std::string& file);

/// The value as it would be written in a file, shortened to so many bytes: for "found" in messages.
std::string print_node(const Node& node, std::size_t longest = 60);

/// A text as a TOML basic string, in quotation marks.
std::string toml_text(std::string_view text);

}  // namespace halftool::io
