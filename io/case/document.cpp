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
    std::string reason(error.description());
    const auto where = reason.find(": ");  // "Error while parsing string: " says less than the line
    if (reason.starts_with("Error while parsing") && where != std::string::npos)
      reason = reason.substr(where + 2);
    throw CaseError(
        {{file, static_cast<int>(error.source().begin.line), "", reason, "TOML 1.0",
          "texts stand in quotation marks, a key stands once in its table, tables are headed [like.this]"}});
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
