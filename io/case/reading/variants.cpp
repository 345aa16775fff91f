#include "io/case/variants.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "io/case/document.hpp"
#include "io/case/reading/reader.hpp"

namespace halftool::io {
namespace {

Node* find(Node& table, const std::string& key) {
  for (auto& [name, value] : table.entries)
    if (name == key) return &value;
  return nullptr;
}

void drop(Node& table, const std::vector<std::string>& keys) {
  std::erase_if(table.entries,
                [&](const Entry& e) { return std::find(keys.begin(), keys.end(), e.key) != keys.end(); });
}

/// Puts another stock in the place of the material, without what belongs to the case's own sheet.
void put_stock(Node& root, const Node& stock) {
  Node& sheet = *find(root, "sheet");
  drop(sheet, {"forming_limit"});
  Node& material = *find(sheet, "material");
  material.entries = {{"stock", stock}};
  if (Node* limits = find(root, "limits"); limits != nullptr) {
    drop(*limits,
         {"edge_stretch", "hole_expansion", "hole_stretch", "trim_stretch", "bend_ratio", "bend_strain"});
    const Node* judged = limits->find("forming_limit");
    if (judged != nullptr && judged->text == "measured") drop(*limits, {"forming_limit"});
  }
}

/// Measured points are those of the case's own sheet unless they say otherwise; another gauge is held against
/// that one's.
void keep_tested_thickness(Node& sheet) {
  Node* limit = find(sheet, "forming_limit");
  const bool measured =
      limit != nullptr && (limit->find("points") != nullptr || limit->find("file") != nullptr);
  if (measured && limit->find("thickness") == nullptr)
    limit->entries.push_back({"thickness", *find(sheet, "thickness")});
}

/// The document with one of its other sheets in the place of its own.
Node with_other(Node root, std::size_t index) {
  Node& sheet = *find(root, "sheet");
  const Node other = find(sheet, "other")->items[index];
  drop(sheet, {"other"});
  if (const Node* thickness = other.find("thickness")) {
    keep_tested_thickness(sheet);
    *find(sheet, "thickness") = *thickness;
  }
  if (const Node* stock = other.find("stock")) put_stock(root, *stock);
  if (const Node* hardening = other.find("hardening")) {
    Node& material = *find(*find(root, "sheet"), "material");
    drop(material, {"hardening"});
    material.entries.push_back({"hardening", *hardening});
  }
  return root;
}

std::string label_of(const OtherSheet& other, const Case& job) {
  if (!other.name.empty()) return other.name;
  return fmt::format("{}{:.4g} mm{}", other.stock.empty() ? "" : other.stock + ", ", job.blank.thickness,
                     other.hardening.empty() ? "" : ", " + other.hardening);
}

/// Notes what is wrong with one of the others under its name.
void note(const CaseError& error, std::size_t index, std::vector<CaseProblem>& problems) {
  for (CaseProblem problem : error.problems()) {
    problem.key += fmt::format(" (with sheet.other[{}])", index + 1);
    problems.push_back(std::move(problem));
  }
}

/// A doubt in words, and the labels of the variants that have it.
struct SharedDoubt {
  std::string words;
  std::vector<std::string> labels;
};

/// What the stock says against its sheets, once each.
std::string print_cautions(const std::vector<CaseVariant>& variants) {
  std::set<std::string> told;
  std::string text;
  for (const CaseVariant& variant : variants) {
    const auto& stock = variant.job.stock;
    if (!stock || stock->caution.empty() || !told.insert(stock->name).second) continue;
    text += fmt::format("caution (sheet {} of the stock): {}\n\n", stock->name, stock->caution);
  }
  return text;
}

std::vector<SharedDoubt> shared_doubts(const std::vector<CaseVariant>& variants) {
  std::vector<SharedDoubt> doubts;
  for (const CaseVariant& variant : variants)
    for (const CaseWarning& warning : variant.job.warnings) {
      const std::string words = print_problem(warning);
      auto same =
          std::find_if(doubts.begin(), doubts.end(), [&](const SharedDoubt& d) { return d.words == words; });
      if (same == doubts.end()) same = doubts.insert(doubts.end(), {words, {}});
      same->labels.push_back(variant.label);
    }
  return doubts;
}

}  // namespace

std::vector<CaseVariant> sheet_variants(std::string_view text, const std::filesystem::path& file) {
  const Node root = parse_document(text, file.string());
  std::vector<CaseVariant> variants = {{"own sheet", read_document(root, file)}};
  const std::vector<OtherSheet> others = variants.front().job.other_sheets;
  std::vector<CaseProblem> problems;
  for (std::size_t i = 0; i < others.size(); ++i) try {
      Case job = read_document(with_other(root, i), file);
      std::string label = label_of(others[i], job);
      variants.push_back({std::move(label), std::move(job)});
    } catch (const CaseError& error) {
      note(error, i, problems);
    }
  if (!problems.empty()) throw CaseError(std::move(problems));
  return variants;
}

std::vector<CaseVariant> sheet_variants(const std::filesystem::path& file) {
  return sheet_variants(case_text(file), file);
}

std::string print_warnings(const std::vector<CaseVariant>& variants) {
  std::string text;
  for (const SharedDoubt& doubt : shared_doubts(variants)) {
    const bool all = doubt.labels.size() == variants.size();
    text += fmt::format("warning ({}): {}\n\n",
                        all ? "all sheets" : fmt::format("{}", fmt::join(doubt.labels, "; ")), doubt.words);
  }
  return text + print_cautions(variants);
}

}  // namespace halftool::io
