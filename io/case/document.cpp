#include "io/case/document.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>

#include "io/case/case_error.hpp"
#include "io/case/quantity.hpp"

namespace halftool::io {
namespace {

Node convert(const toml::node& from);

Node convert_table(const toml::table& table) {
  Node node;
  for (const auto& [key, value] : table) {
    Entry entry{std::string(key.str()), convert(value)};
    if (key.source().begin) entry.value.line = static_cast<int>(key.source().begin.line);
    node.entries.push_back(std::move(entry));
  }
  std::stable_sort(node.entries.begin(), node.entries.end(),
                   [](const Entry& a, const Entry& b) { return a.value.line < b.value.line; });
  return node;
}

Node convert(const toml::node& from) {
  Node node;
  if (const auto* table = from.as_table()) {
    node = convert_table(*table);
  } else if (const auto* array = from.as_array()) {
    node.kind = Node::Kind::list;
    for (const auto& item : *array) node.items.push_back(convert(item));
  } else if (const auto* text = from.as_string()) {
    node.kind = Node::Kind::text;
    node.text = text->get();
  } else if (const auto* integer = from.as_integer()) {
    node.kind = Node::Kind::integer;
    node.integer = integer->get();
  } else if (const auto* real = from.as_floating_point()) {
    node.kind = Node::Kind::real;
    node.real = real->get();
  } else if (const auto* flag = from.as_boolean()) {
    node.kind = Node::Kind::flag;
    node.flag = flag->get();
  } else {
    node.kind = Node::Kind::date;
  }
  node.line = static_cast<int>(from.source().begin.line);
  return node;
}

std::string joined_items(const Node& node) {
  std::string text;
  for (const auto& item : node.items) text += (text.empty() ? "" : ", ") + print_node(item);
  return "[" + text + "]";
}

std::string joined_entries(const Node& node) {
  std::string text;
  for (const auto& [key, value] : node.entries)
    text += (text.empty() ? " " : ", ") + key + " = " + print_node(value);
  return "{" + text + (text.empty() ? "}" : " }");
}

std::string full_text(const Node& node) {
  switch (node.kind) {
    case Node::Kind::text:
      return toml_text(node.text);
    case Node::Kind::integer:
      return std::to_string(node.integer);
    case Node::Kind::real:
      return print_number(node.real);
    case Node::Kind::flag:
      return node.flag ? "true" : "false";
    case Node::Kind::list:
      return joined_items(node);
    case Node::Kind::table:
      return joined_entries(node);
    case Node::Kind::date:
      return "a date or time";
  }
  return {};
}

/// A line of a text, counted from 1.
std::string_view line_of(std::string_view text, std::size_t number) {
  for (; number > 1; --number) {
    const auto end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  return text.substr(0, text.find('\n'));
}

/// The first number of a line that begins with its decimal point, ".98"; empty: there is none.
std::string_view pointed_number(std::string_view line) {
  constexpr std::string_view before = "=,[ \t+-", digits = "0123456789";
  for (std::size_t i = 1; i + 1 < line.size(); ++i)
    if (line[i] == '.' && before.find(line[i - 1]) != std::string_view::npos &&
        digits.find(line[i + 1]) != std::string_view::npos)
      return line.substr(i, line.find_first_not_of(digits, i + 1) - i);
  return {};
}

/// The key that the value behind this part of a line belongs to; empty: none stands there.
std::string key_in(std::string_view before) {
  const auto equals = before.rfind('=');
  if (equals == std::string_view::npos) return {};
  const auto last = before.find_last_not_of(" \t", equals - 1);
  const auto apart = before.find_last_of(" \t{,", last);
  return std::string(before.substr(apart + 1, last - apart));
}

CaseProblem grammar_problem(std::string_view text, const std::string& file, int line, std::string reason) {
  const auto where = reason.find(": ");  // "Error while parsing string: " says less than the line
  if (reason.starts_with("Error while parsing") && where != std::string::npos)
    reason = reason.substr(where + 2);
  const auto wrong = line_of(text, static_cast<std::size_t>(line));
  const auto pointed = pointed_number(wrong);
  if (!pointed.empty() && reason.find("digit") != std::string::npos)
    return {file,
            line,
            key_in(wrong.substr(0, static_cast<std::size_t>(pointed.data() - wrong.data()))),
            std::string(pointed),
            "digits on both sides of a decimal point",
            fmt::format("write 0{}", pointed)};
  return {file,
          line,
          "",
          std::move(reason),
          "TOML 1.0",
          "texts stand in quotation marks, a key stands once in its table, tables are headed [like.this]"};
}

}  // namespace

const Node* Node::find(std::string_view key) const {
  const auto found =
      std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == key; });
  return found == entries.end() ? nullptr : &found->value;
}

Node parse_document(std::string_view text, const std::string& file) {
  try {
    return convert_table(toml::parse(text, file));
  } catch (const toml::parse_error& error) {
    throw CaseError({grammar_problem(text, file, static_cast<int>(error.source().begin.line),
                                     std::string(error.description()))});
  }
}

std::string print_node(const Node& node, std::size_t longest) {
  auto text = full_text(node);
  if (text.size() <= longest) return text;
  size_t cut = longest - 3;
  while (cut > 0 && (static_cast<unsigned char>(text[cut]) & 0xC0U) == 0x80U)
    --cut;  // keep UTF-8 letters whole
  return text.substr(0, cut) + "...";
}

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      out += fmt::format("\\{}", c);
    else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F)
      out += fmt::format("\\u{:04X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    else
      out += c;
  }
  return out + '"';
}

}  // namespace halftool::io
