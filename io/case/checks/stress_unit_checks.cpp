#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "io/case/checks/case_checks.hpp"
#include "io/case/document.hpp"
#include "io/case/key_path.hpp"
#include "io/case/quantity.hpp"
#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

const std::string material = "sheet.material";

/// A stress as it stands in the file.
struct WrittenStress {
  std::string key;
  const Node* node = nullptr;
  double value = 0;  ///< [MPa]
};

/// Units of one system may stand side by side: they differ by a thousand, which the ranges of the keys find.
std::string system_of(const WrittenStress& stress) {
  const std::string_view unit = unit_of(stress.node->text);
  if (unit == "psi" || unit == "ksi") return "psi";
  return unit == "bar" ? "bar" : "MPa";
}

/// Takes all stresses at a key and below it; zero has no unit.
void gather(const std::string& key, const Node& node, std::vector<WrittenStress>& stresses) {
  for (std::size_t i = 0; i < node.items.size(); ++i)
    gather(fmt::format("{}[{}]", key, i + 1), node.items[i], stresses);
  if (node.kind != Node::Kind::text) return;
  const auto value = parse_quantity(node.text, Dimension::pressure).value;
  if (value && *value != 0) stresses.push_back({key, &node, *value});
}

/// One of those whose system is the rarest; of systems that are as rare, the last in the file.
const WrittenStress& odd_one(const std::vector<WrittenStress>& stresses) {
  const auto count = [&](const WrittenStress& of) {
    return std::count_if(stresses.begin(), stresses.end(),
                         [&](const WrittenStress& s) { return system_of(s) == system_of(of); });
  };
  const WrittenStress* odd = &stresses.front();
  for (const WrittenStress& stress : stresses)
    if (system_of(stress) != system_of(*odd) && count(stress) <= count(*odd)) odd = &stress;
  return *odd;
}

void check_table(const CheckedCase& c, const std::string& table, const std::vector<WrittenStress>& stresses) {
  const WrittenStress& odd = odd_one(stresses);
  const auto other = std::find_if(stresses.begin(), stresses.end(),
                                  [&](const WrittenStress& s) { return system_of(s) != system_of(odd); });
  if (other == stresses.end()) return;
  const std::string written = toml_text(odd.node->text);
  c.findings.warning(
      odd.node->line, odd.key,
      fmt::format("{} beside {} ({})", written, toml_text(other->node->text), leaf_of(other->key)),
      fmt::format("stresses of one system of units in {}: MPa or GPa, or psi or ksi, or bar", leaf_of(table)),
      fmt::format("check both units, one may be a slip: {} is {}; write all of {} in one unit", written,
                  print_quantity(odd.value, Dimension::pressure, unit_of(other->node->text)),
                  leaf_of(table)));
}

}  // namespace

void check_stress_units(const CheckedCase& c) {
  std::map<std::string, std::vector<WrittenStress>> tables;
  for (const KeySpec& spec : schema().keys) {
    if (!is_within(spec.path, material) || dimension_of(spec.kind) != Dimension::pressure) continue;
    if (!c.values.given.contains(spec.path)) continue;  // of the stock, or not sound
    const std::string above = parent_of(spec.path);
    gather(spec.path, *node_at(c.document, spec.path), tables[above == material ? spec.path : above]);
  }
  for (const auto& [table, stresses] : tables)
    if (!stresses.empty()) check_table(c, table, stresses);
}

}  // namespace halftool::io
