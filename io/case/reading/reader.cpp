#include "io/case/reading/reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>

#include "io/case/case.hpp"
#include "io/case/checks/case_checks.hpp"
#include "io/case/document.hpp"
#include "io/case/key_path.hpp"
#include "io/case/reading/limit_reading.hpp"
#include "io/case/reading/outline_reading.hpp"
#include "io/case/reading/stock_filling.hpp"
#include "io/case/reading/trim_reading.hpp"
#include "io/case/reading/unknown_keys.hpp"
#include "io/case/schema/schema.hpp"
#include "io/case/schema/value.hpp"

namespace halftool::io {
namespace {

/// What a table must hold: "kind, one of block, cylinder, cavity, step".
std::string needs_of(const std::string& table) {
  std::vector<std::string> needs;
  const auto below = [&](const std::string& path) { return path.substr(path.find('.', table.size()) + 1); };
  const auto depends = [](const std::string& path) {  // on a choice or on a list that may be empty
    const auto* list = schema().list_of(path);
    if (list != nullptr && list->least == 0) return true;
    for (const auto& choice : schema().choices)
      for (const auto& member : choice.members)
        if (is_within(path, choice.table + "." + member)) return true;
    return false;
  };
  for (const auto& spec : schema().keys)
    if (spec.required && spec.belongs_to.empty() && is_within(spec.path, table) && !depends(spec.path))
      needs.push_back(below(spec.path));
  for (const auto& choice : schema().choices) {
    if (choice.optional || !is_within(choice.table, table)) continue;
    std::vector<std::string> members;
    for (const auto& member : choice.members) members.push_back(below(choice.table + "." + member));
    needs.push_back(fmt::format("one of {}", fmt::join(members, ", ")));
  }
  return fmt::format("{}", fmt::join(needs, ", "));
}

/// Reads one document into one case, in the order of the schema.
class Reader {
 public:
  Reader(Node root, const std::filesystem::path& file) : root_(std::move(root)) {
    case_.file = file;
    findings_.file = file.string();
  }

  Case read() {
    meant_ = report_unknown_keys(root_, findings_);
    fill();
    for (const auto& choice : schema().choices) choose(choice);
    for (const auto& list : schema().lists) measure(list);
    for (const auto& spec : schema().keys) read_key(spec);
    const CheckedCase checked{case_, lines_, undecided_, meant_, root_, findings_};
    read_limit(checked, case_);
    read_outline(checked, case_);
    read_trims(checked, case_);
    check_sheet(checked);
    check_yield(checked);
    check_stress_units(checked);
    check_limit(checked);
    check_rolling(checked);
    check_blank(checked);
    check_tool(checked);
    check_fit(checked);
    check_steps(checked);
    check_inserts(checked);
    check_zones(checked);
    check_trims(checked);
    check_other_sheets(checked);
    check_scatter(checked);
    return finish();
  }

  /// [sheet.material] alone.
  Case read_sheet() {
    meant_ = report_unknown_keys(root_, findings_);
    fill();
    const auto of_sheet = [](const std::string& path) { return is_within(path, "sheet.material"); };
    for (const auto& choice : schema().choices)
      if (of_sheet(choice.table)) choose(choice);
    for (const auto& spec : schema().keys)
      if (of_sheet(spec.path)) read_key(spec);
    const CheckedCase checked{case_, lines_, undecided_, meant_, root_, findings_};
    check_sheet(checked);
    check_yield(checked);
    check_stress_units(checked);
    return finish();
  }

 private:
  /// Takes from the stock what the case leaves to it.
  void fill() {
    auto filling = fill_from_stock(root_);
    case_.stock = std::move(filling.use);
    meant_.merge(filling.meant);
  }

  void choose(const Choice& choice) {
    std::vector<size_t> present;
    for (size_t i = 0; i < choice.members.size(); ++i)
      if (node_at(root_, choice.table + "." + choice.members[i]) != nullptr) present.push_back(i);
    if (present.empty() && choice.optional) return;
    choice.choose(case_, present.empty() ? 0 : present.front());
    if (present.size() == 1) return;
    for (const auto& member : choice.members) undecided_.push_back(choice.table + "." + member);
    const Node* table = node_at(root_, choice.table);
    if (table == nullptr) return report_missing_table(choice.table);
    const auto was_meant = [&](const auto& member) { return meant_.contains(choice.table + "." + member); };
    if (table->kind != Node::Kind::table ||  // reported as a wrong table
        std::any_of(choice.members.begin(), choice.members.end(), was_meant))
      return;
    std::vector<std::string> found;
    found.reserve(present.size());
    for (const size_t i : present) found.push_back(choice.members[i]);
    findings_.error(
        table->line, choice.table,
        present.empty() ? "no " + choice.about : fmt::format("{}", fmt::join(found, " and ")),
        fmt::format("{} one of {}", choice.optional ? "at most" : "exactly", fmt::join(choice.members, ", ")),
        present.empty() ? fmt::format("add the {}: one of these keys or tables", choice.about)
                        : fmt::format("keep one of them as the {}", choice.about));
  }

  void measure(const TableList& list) {
    const Node* node = node_at(root_, list.path);
    const size_t n = node != nullptr && node->kind == Node::Kind::list ? node->items.size() : 0;
    if (n > list.most) {
      findings_.error(node->line, list.path, fmt::format("{} tables [[{}]]", n, list.path),
                      list.most == 1 ? "one" : fmt::format("up to {}", list.most), "leave the others out");
      return;
    }
    list.resize(case_, std::max(n, list.least));
    for (size_t i = 0; i < n; ++i) lines_[fmt::format("{}[{}]", list.path, i + 1)] = node->items[i].line;
  }

  void read_key(const KeySpec& spec) {
    const auto* list = schema().list_of(spec.path);
    const int n = list == nullptr ? 1 : static_cast<int>(list->size(case_));
    for (int i = 0; i < n; ++i) read_key(spec, i);
  }

  void read_key(const KeySpec& spec, int index) {
    const auto is_within_it = [&](const std::string& member) { return is_within(spec.path, member); };
    if (std::any_of(undecided_.begin(), undecided_.end(), is_within_it)) return;
    const auto key = numbered(spec.path, index);
    const Node* node = node_at(root_, key);
    const bool has_place = spec.access.get(case_, index).has_value();
    if (node == nullptr) {
      if (spec.required && has_place) report_missing(spec, key);
      return;
    }
    if (!has_place) {
      report_misplaced(spec, key, *node);
      return;
    }
    auto value = read_value(*node, spec, key, findings_);
    if (!value) return;
    if (spec.kind == ValueKind::path) value = resolved(std::get<std::string>(*value));
    spec.access.set(case_, index, *value);
    if (!case_.stock || !case_.stock->filled.contains(key)) case_.given[key] = node->line;
    lines_[key] = node->line;
  }

  [[nodiscard]] std::string resolved(const std::string& path) const {
    return (case_.file.parent_path() / path).lexically_normal().string();
  }

  void report_missing(const KeySpec& spec, const std::string& key) {
    const Node* table = node_at(root_, parent_of(key));
    if (table == nullptr) return report_missing_table(parent_of(spec.path));
    if (table->kind != Node::Kind::table || meant_.contains(key)) return;
    const auto range = range_text(spec.hard, spec);
    findings_.error(table->line, key, "nothing", kind_text(spec) + (range.empty() ? "" : ", " + range),
                    fmt::format("add {} ({})", leaf_of(key), spec.about));
  }

  /// Speaks of the outermost table that is missing, once, rather than of each key in it.
  void report_missing_table(std::string table) {
    const bool is_list = table.ends_with("[]");
    if (is_list) table.resize(table.size() - 2);
    while (!parent_of(table).empty() && node_at(root_, parent_of(table)) == nullptr) table = parent_of(table);
    const Node* above = node_at(root_, parent_of(table));
    const auto known = [&](const CaseProblem& p) { return p.key == table; };
    if (above->kind != Node::Kind::table || meant_.contains(table) ||
        std::any_of(findings_.errors.begin(), findings_.errors.end(), known))
      return;
    findings_.error(above->line, table, "nothing",
                    (is_list ? "a table [[" : "a table [") + table + (is_list ? "]]" : "]"),
                    "add the table with " + needs_of(table));
  }

  void report_misplaced(const KeySpec& spec, const std::string& key, const Node& node) {
    const auto table = spec.belongs_to.empty() ? std::string() : parent_of(spec.belongs_to.front());
    for (const auto& member : undecided_)
      if (parent_of(member) == table) return;  // the choice itself is at fault
    findings_.error(node.line, key, print_node(node),
                    fmt::format("only beside {}", fmt::join(spec.belongs_to, " or ")), "leave it out");
  }

  Case finish() {
    const auto by_line = [](const CaseProblem& a, const CaseProblem& b) { return a.line < b.line; };
    std::stable_sort(findings_.errors.begin(), findings_.errors.end(), by_line);
    std::stable_sort(findings_.warnings.begin(), findings_.warnings.end(), by_line);
    if (!findings_.errors.empty()) throw CaseError(std::move(findings_.errors));
    case_.warnings = std::move(findings_.warnings);
    choose_flatness(case_);
    choose_limit(case_);
    choose_bend_limit(case_);
    return std::move(case_);
  }

  Node root_;
  Case case_;
  Findings findings_;
  std::map<std::string, int> lines_;
  std::set<std::string> meant_;         ///< keys that misspelt ones were probably meant to be
  std::vector<std::string> undecided_;  ///< members of choices that were not made
};

}  // namespace

Case read_document(Node root, const std::filesystem::path& file) {
  return Reader(std::move(root), file).read();
}

Case parse_case(std::string_view text, const std::filesystem::path& file) {
  return read_document(parse_document(text, file.string()), file);
}

Case parse_sheet(std::string_view text, const std::filesystem::path& file) {
  return Reader(parse_document(text, file.string()), file).read_sheet();
}

std::string case_text(const std::filesystem::path& file) {
  constexpr std::uintmax_t largest = 16U << 20U;  // a case file is a page; this is another kind of file
  std::error_code code;
  const bool regular = std::filesystem::is_regular_file(file, code);
  if (!regular)
    throw CaseError(
        {{file.string(), 0, "", std::filesystem::exists(file, code) ? "no regular file" : "no such file",
          "a case file in TOML", "check the path"}});
  if (std::filesystem::file_size(file, code) > largest)
    throw CaseError(
        {{file.string(), 0, "", "a file of more than 16 MB", "a case file in TOML", "check the path"}});
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  if (!stream)
    throw CaseError({{file.string(), 0, "", "a file that cannot be read", "a case file in TOML",
                      "check its permissions"}});
  return text.str();
}

Case read_case(const std::filesystem::path& file) {
  return parse_case(case_text(file), file);
}

}  // namespace halftool::io
