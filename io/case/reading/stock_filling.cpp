#include "io/case/reading/stock_filling.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/key_path.hpp"
#include "io/case/schema/schema.hpp"
#include "io/case/schema/value.hpp"
#include "io/stock/stock.hpp"

namespace halftool::io {
namespace {

const std::string table_path = "sheet.material";

Node* find(Node& table, const std::string& key) {
  for (auto& [name, value] : table.entries)
    if (name == key) return &value;
  return nullptr;
}

std::string below(const std::string& path) {
  return path.substr(table_path.size() + 1);
}

/// Whether a key describes the sheet or how it is used rather than being one of its constants.
bool is_label(const std::string& key) {
  return key == "stock" || key == "name" || key == "source" || key == "grade" || key == "hardening";
}

bool same_value(const Node& a, const Node& b, const KeySpec& spec) {
  Findings unheard;
  const auto value = read_value(a, spec, spec.path, unheard);
  return value && value == read_value(b, spec, spec.path, unheard);
}

/// Fills one table [sheet.material].
class Filler {
 public:
  Filler(Node& material, const StockSheet& sheet, int line)
      : material_(material), sheet_(sheet), line_(line) {}

  StockUse fill() {
    use_.name = sheet_.key;
    use_.caution = sheet_.caution;
    use_.limit_estimate = sheet_.limit_estimate;
    note_own();
    for (const StockConstant& constant : sheet_.constants)
      if (!gives_way(constant.origin.key)) take(constant);
    label();
    const auto is_own = [](const ConstantOrigin& origin) { return origin.grade == "user"; };
    if (std::none_of(use_.origins.begin(), use_.origins.end(), is_own)) use_.least_bends = sheet_.least_bends;
    return std::move(use_);
  }

 private:
  /// Constants that the case gives itself; those that repeat the stock keep their origin.
  void note_own() {
    for (const auto& spec : schema().keys) {
      if (!is_within(spec.path, table_path) || is_label(below(spec.path))) continue;
      const Node* own = node_at(material_, below(spec.path));
      if (own == nullptr) continue;
      const auto key = below(spec.path);
      const auto same =
          std::find_if(sheet_.constants.begin(), sheet_.constants.end(), [&](const StockConstant& constant) {
            return constant.origin.key == key && same_value(*own, constant.value, spec);
          });
      if (same != sheet_.constants.end())
        use_.origins.push_back(same->origin);
      else
        use_.origins.push_back(
            {key, own->kind == Node::Kind::text ? own->text : print_node(*own), "user", "the case file"});
    }
  }

  /// Whether the case gives this constant, or another law or condition in its place.
  [[nodiscard]] bool gives_way(const std::string& key) const {
    if (node_at(material_, key) != nullptr) return true;
    for (const auto& choice : schema().choices) {
      if (choice.table != table_path) continue;
      const auto mine = std::find_if(choice.members.begin(), choice.members.end(),
                                     [&](const auto& member) { return is_within(key, member); });
      if (mine == choice.members.end()) continue;
      return std::any_of(choice.members.begin(), choice.members.end(), [&](const auto& member) {
        return member != *mine && own_members_.contains(member);
      });
    }
    return false;
  }

  void take(const StockConstant& constant) {
    const auto& key = constant.origin.key;
    const auto dot = key.find('.');
    Node* table = &material_;
    if (dot != std::string::npos) {
      table = find(material_, key.substr(0, dot));
      if (table == nullptr) {
        material_.entries.push_back({key.substr(0, dot), Node{}});
        table = &material_.entries.back().value;
        table->line = line_;
      }
      if (table->kind != Node::Kind::table) return;  // reported as a wrong table
    }
    put(*table, leaf_of(key), constant.value);
    use_.filled.insert(table_path + "." + key);
    use_.origins.push_back(constant.origin);
  }

  void put(Node& table, const std::string& key, Node value) const {
    value.line = line_;
    for (Node& item : value.items) {
      item.line = line_;
      for (Node& part : item.items) part.line = line_;
    }
    table.entries.push_back({key, std::move(value)});
  }

  void label() {
    std::string worst = grades().front();
    std::vector<std::string> own, sources;
    for (const ConstantOrigin& origin : use_.origins) {
      worst = worse_grade(worst, origin.grade);
      if (origin.grade == "user") own.push_back(origin.key);
      if (std::find(sources.begin(), sources.end(), origin.source) == sources.end())
        sources.push_back(origin.source);
    }
    put_label("name", sheet_.name + (own.empty() ? "" : fmt::format(", own {}", fmt::join(own, ", "))));
    put_label("source", fmt::format("stock {}: {}", sheet_.key, fmt::join(sources, "; ")));
    put_label("grade", worst);
  }

  void put_label(const std::string& key, const std::string& text) {
    if (find(material_, key) != nullptr) return;
    Node node;
    node.kind = Node::Kind::text;
    node.text = text;
    put(material_, key, std::move(node));
    use_.filled.insert(table_path + "." + key);
  }

  static std::set<std::string> keys_of(const Node& table) {
    std::set<std::string> keys;
    for (const Entry& entry : table.entries) keys.insert(entry.key);
    return keys;
  }

  Node& material_;
  const StockSheet& sheet_;
  int line_;
  std::set<std::string> own_members_ = keys_of(material_);
  StockUse use_;
};

}  // namespace

StockFilling fill_from_stock(Node& root) {
  Node* sheet = find(root, "sheet");
  Node* material = sheet == nullptr ? nullptr : find(*sheet, "material");
  Node* name = material == nullptr ? nullptr : find(*material, "stock");
  if (name == nullptr) return {};
  StockFilling filling;
  const StockSheet* found = name->kind == Node::Kind::text ? find_stock(name->text) : nullptr;
  if (found != nullptr) {
    const int line = name->line;
    filling.use = Filler(*material, *found, line).fill();
    return filling;
  }
  for (const auto& spec : schema().keys)
    if (is_within(spec.path, table_path) && below(spec.path) != "stock") filling.meant.insert(spec.path);
  return filling;
}

}  // namespace halftool::io
