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

/// A slip of units shows in other ways, too, and is then the likelier cause.
void say_beside_errors(const CheckedCase& c, const std::string& table, const std::string& doubt) {
  for (CaseProblem& error : c.findings.errors)
    if (error.key == table || is_within(error.key, table))
      error.mend = fmt::format("look at the units first ({}); else: {}", doubt, error.mend);
}

void check_table(const CheckedCase& c, const std::string& table, const std::vector<WrittenStress>& stresses) {
  const WrittenStress& odd = odd_one(stresses);
  const auto other = std::find_if(stresses.begin(), stresses.end(),
                                  [&](const WrittenStress& s) { return system_of(s) != system_of(odd); });
  if (other == stresses.end()) return;
  const std::string written = toml_text(odd.node->text);
  const std::string found =
      fmt::format("{} beside {} ({})", written, toml_text(other->node->text), leaf_of(other->key));
  say_beside_errors(c, table, found);
  c.findings.warning(
      odd.node->line, odd.key, found,
      fmt::format("stresses of one system of units in {}: MPa or GPa, or psi or ksi, or bar", leaf_of(table)),
      fmt::format("check both units, one may be a slip: {} is {}; write all of {} in one unit", written,
                  print_quantity(odd.value, Dimension::pressure, unit_of(other->node->text)),
                  leaf_of(table)));
}

/// A law with one stress has only Young's modulus to be held against (unless the stock gives the rest).
void check_beside_modulus(const CheckedCase& c, const WrittenStress& modulus, const std::string& table,
                          const std::vector<WrittenStress>& stresses) {
  if (stresses.size() != 1 || system_of(stresses.front()) == system_of(modulus)) return;
  const WrittenStress& only = stresses.front();
  c.findings.warning(
      only.node->line, only.key,
      fmt::format("{} beside {} (youngs_modulus)", toml_text(only.node->text), toml_text(modulus.node->text)),
      fmt::format(
          "the one stress of {} in the system of units of youngs_modulus: MPa or GPa, or psi or ksi, or bar",
          leaf_of(table)),
      fmt::format(
          "check the unit, it may be a slip: {} is {}", toml_text(only.node->text),
          print_quantity(only.value, Dimension::pressure, system_of(modulus) == "psi" ? "ksi" : "MPa")));
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
  const std::string modulus_key = material + ".youngs_modulus";
  const auto& modulus = tables[modulus_key];
  for (const auto& [table, stresses] : tables) {
    if (stresses.empty()) continue;
    check_table(c, table, stresses);
    if (modulus.size() == 1 && table != modulus_key && !c.values.stock)
      check_beside_modulus(c, modulus.front(), table, stresses);
  }
}

}  // namespace halftool::io
