#include "io/stock/stock.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/case_error.hpp"

namespace halftool::io {
namespace {

/// Reads the sheets of one document.
class StockReader {
 public:
  StockReader(std::string_view text, std::string file)
      : file_(std::move(file)), root_(parse_document(text, file_)) {}

  std::vector<StockSheet> read() {
    std::vector<StockSheet> sheets;
    const Node* tables = root_.find("sheets");
    if (tables == nullptr) fault(0, "sheets", "nothing", "tables [sheets.NAME]");
    for (const auto& [key, table] : tables->entries) sheets.push_back(read_sheet(key, table));
    std::sort(sheets.begin(), sheets.end(), [](const auto& a, const auto& b) { return a.key < b.key; });
    return sheets;
  }

 private:
  [[noreturn]] void fault(int line, const std::string& key, const std::string& found,
                          const std::string& allowed) const {
    throw CaseError({{file_, line, key, found, allowed, "mend the stock of sheets"}});
  }

  [[nodiscard]] std::string text_of(const Node& table, const std::string& sheet, const char* key,
                                    bool required) const {
    const Node* node = table.find(key);
    if (node != nullptr && node->kind == Node::Kind::text) return node->text;
    if (node != nullptr || required)
      fault(table.line, sheet + "." + key, node == nullptr ? "nothing" : print_node(*node), "a text");
    return {};
  }

  StockSheet read_sheet(const std::string& key, const Node& table) const {
    StockSheet sheet;
    sheet.key = key;
    sheet.name = text_of(table, key, "name", true);
    sheet.valid_for = text_of(table, key, "valid_for", true);
    sheet.caution = text_of(table, key, "caution", false);
    sheet.limit_estimate = text_of(table, key, "limit", true) == "estimate";
    for (const auto& [name, value] : table.entries) {
      if (name == "name" || name == "valid_for" || name == "caution" || name == "limit") continue;
      if (value.kind != Node::Kind::table) {
        sheet.constants.push_back(read_constant(key, name, value));
        continue;
      }
      for (const auto& [part, constant] : value.entries)
        sheet.constants.push_back(read_constant(key, fmt::format("{}.{}", name, part), constant));
    }
    return sheet;
  }

  /// [value, grade, source] or [value, grade, source, note].
  StockConstant read_constant(const std::string& sheet, const std::string& key, const Node& node) const {
    const std::string path = sheet + "." + key;
    const bool fits = node.kind == Node::Kind::list && (node.items.size() == 3 || node.items.size() == 4) &&
                      std::all_of(node.items.begin() + 1, node.items.end(),
                                  [](const Node& item) { return item.kind == Node::Kind::text; });
    if (!fits) fault(node.line, path, print_node(node), "[value, grade, source] and perhaps a note");
    const auto& grade = node.items[1].text;
    if (grade == "user" || std::find(grades().begin(), grades().end(), grade) == grades().end())
      fault(node.line, path, grade, fmt::format("one of {}", fmt::join(grades(), ", ")));
    const Node* sources = root_.find("sources");
    const Node* source = sources == nullptr ? nullptr : sources->find(node.items[2].text);
    if (source == nullptr) fault(node.line, path, node.items[2].text, "a key of [sources]");
    StockConstant constant{node.items[0], {key, print_node(node.items[0], 2000), grade, source->text}};
    if (node.items.size() == 4) constant.origin.note = node.items[3].text;
    if (constant.value.kind == Node::Kind::text) constant.origin.value = constant.value.text;
    return constant;
  }

  std::string file_;
  Node root_;
};

}  // namespace

std::string StockSheet::worst_grade() const {
  std::string worst = grades().front();
  for (const StockConstant& constant : constants) worst = worse_grade(worst, constant.origin.grade);
  return worst;
}

std::vector<StockSheet> parse_stock(std::string_view text, const std::string& file) {
  return StockReader(text, file).read();
}

const std::vector<StockSheet>& stock() {
  static const std::vector<StockSheet> sheets = parse_stock(stock_text(), "sheets.toml");
  return sheets;
}

const StockSheet* find_stock(std::string_view key) {
  const auto found =
      std::find_if(stock().begin(), stock().end(), [&](const StockSheet& s) { return s.key == key; });
  return found == stock().end() ? nullptr : &*found;
}

std::vector<std::string> stock_names() {
  std::vector<std::string> names;
  for (const StockSheet& sheet : stock()) names.push_back(sheet.key);
  return names;
}

}  // namespace halftool::io
