#include "io/stock/stock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "io/case/case_error.hpp"
#include "io/case/quantity.hpp"

namespace halftool::io {
namespace {

bool are_texts(std::vector<Node>::const_iterator first, std::vector<Node>::const_iterator last) {
  return std::all_of(first, last, [](const Node& item) { return item.kind == Node::Kind::text; });
}

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
    sheet.reread = text_of(table, key, "reread", true);
    sheet.caution = text_of(table, key, "caution", false);
    sheet.limit_estimate = text_of(table, key, "limit", true) == "estimate";
    if (const Node* published = table.find("published")) {
      sheet.offset_yield = read_strength(key, *published, "offset_yield");
      sheet.tensile_strength = read_strength(key, *published, "tensile_strength");
    }
    if (const Node* bends = table.find("least_bends")) sheet.least_bends = read_bends(key, *bends);
    constexpr std::array<std::string_view, 7> no_constants = {"name",  "valid_for", "reread",     "caution",
                                                              "limit", "published", "least_bends"};
    for (const auto& [name, value] : table.entries) {
      if (std::find(no_constants.begin(), no_constants.end(), name) != no_constants.end()) continue;
      if (value.kind != Node::Kind::table) {
        sheet.constants.push_back(read_constant(key, name, value));
        continue;
      }
      for (const auto& [part, constant] : value.entries)
        sheet.constants.push_back(read_constant(key, fmt::format("{}.{}", name, part), constant));
    }
    return sheet;
  }

  [[nodiscard]] std::string source_of(const std::string& path, const Node& key) const {
    const Node* sources = root_.find("sources");
    const Node* source = sources == nullptr ? nullptr : sources->find(key.text);
    if (source == nullptr) fault(key.line, path, key.text, "a key of [sources]");
    return source->text;
  }

  /// -1: no number.
  static double number_of(const Node& node) {
    if (node.kind == Node::Kind::integer) return static_cast<double>(node.integer);
    return node.kind == Node::Kind::real ? node.real : -1;
  }

  /// [[[thickness, ratio], ...], grade, source].
  LeastBends read_bends(const std::string& sheet, const Node& node) const {
    const StockConstant constant = read_constant(sheet, "least_bends", node);
    const std::string& note = constant.origin.note;
    LeastBends bends{{}, constant.origin.grade, constant.origin.source + (note.empty() ? "" : "; " + note)};
    for (const Node& row : constant.value.items) {
      const bool fits = row.kind == Node::Kind::list && row.items.size() == 2;
      const auto thickness = fits ? parse_quantity(row.items[0].text, Dimension::length) : ParsedQuantity{};
      const double ratio = fits ? number_of(row.items[1]) : -1;
      const bool rises =
          bends.ratios.empty() ||
          (thickness.value && *thickness.value > bends.ratios.back()[0] && ratio >= bends.ratios.back()[1]);
      if (!thickness.value || ratio < 0 || !rises)
        fault(row.line, sheet + ".least_bends", print_node(row), "[thickness, ratio], both rising");
      bends.ratios.push_back({*thickness.value, ratio});
    }
    return bends;
  }

  /// [stress, source] or [stress, source, reason].
  std::optional<PublishedStrength> read_strength(const std::string& sheet, const Node& published,
                                                 const char* key) const {
    const Node* node = published.find(key);
    if (node == nullptr) return std::nullopt;
    const std::string path = sheet + ".published." + key;
    const bool fits = node->kind == Node::Kind::list &&
                      (node->items.size() == 2 || node->items.size() == 3) &&
                      are_texts(node->items.begin(), node->items.end());
    const auto stress = fits ? parse_quantity(node->items[0].text, Dimension::pressure) : ParsedQuantity{};
    if (!stress.value) fault(node->line, path, print_node(*node), "[stress, source] and perhaps a reason");
    return PublishedStrength{*stress.value, source_of(path, node->items[1]),
                             node->items.size() == 3 ? node->items[2].text : ""};
  }

  /// [value, grade, source] or [value, grade, source, note].
  StockConstant read_constant(const std::string& sheet, const std::string& key, const Node& node) const {
    const std::string path = sheet + "." + key;
    const bool fits = node.kind == Node::Kind::list && (node.items.size() == 3 || node.items.size() == 4) &&
                      are_texts(node.items.begin() + 1, node.items.end());
    if (!fits) fault(node.line, path, print_node(node), "[value, grade, source] and perhaps a note");
    const auto& grade = node.items[1].text;
    if (grade == "user" || std::find(grades().begin(), grades().end(), grade) == grades().end())
      fault(node.line, path, grade, fmt::format("one of {}", fmt::join(grades(), ", ")));
    StockConstant constant{node.items[0],
                           {key, print_node(node.items[0], 2000), grade, source_of(path, node.items[2])}};
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
