#include "io/case/reading/limit_reading.hpp"

#include <fmt/format.h>

#include "io/table/number_table.hpp"
#include "solver/assessment/forming_limit.hpp"

namespace halftool::io {
namespace {

/// What a heading says of its strains against what the case says; refused where they differ.
void require_kind(const NumberTable& table, std::size_t column, bool engineering) {
  const auto& name = table.columns[column].name;
  const bool says_true = name.find("true") != std::string::npos;
  const bool says_engineering = name.find("eng") != std::string::npos;
  if ((says_true && engineering) || (says_engineering && !engineering))
    throw CaseError({{table.file, table.heading_line, table.columns[column].heading,
                      says_true ? "true strain" : "engineering strain",
                      engineering ? "engineering strain, as sheet.forming_limit.strain says"
                                  : "true strain, as sheet.forming_limit.strain says",
                      "correct the heading or the key"}});
}

std::vector<double> strains_in(const NumberTable& table, const std::string& word, bool engineering) {
  const auto column = column_with(table, word, word + " strain [%]");
  require_kind(table, column, engineering);
  const double factor = strain_factor(table, column);
  auto strains = numbers_in(table, column);
  for (double& strain : strains) strain *= factor;
  return strains;
}

}  // namespace

void read_limit(const CheckedCase& checked, Case& into) {
  const bool chosen = checked.given("limits.forming_limit");
  if (into.computed_limit && !chosen) into.limits.forming_limit = FormingLimit::computed;
  const bool computes =
      into.limits.forming_limit == FormingLimit::computed || into.limits.forming_limit == FormingLimit::lower;
  if (computes && !into.computed_limit && !into.limit_points) into.computed_limit = solver::ComputedLimit{};
  if (!into.limit_points) return;
  if (!chosen) into.limits.forming_limit = FormingLimit::measured;
  LimitPoints& limit = *into.limit_points;
  if (!limit.from_file || !checked.sound({"sheet.forming_limit"})) return;
  try {
    const auto table = read_number_table(limit.file);
    const auto minor = strains_in(table, "minor", limit.engineering);
    const auto major = strains_in(table, "major", limit.engineering);
    for (std::size_t i = 0; i < minor.size(); ++i) {
      limit.points.push_back({minor[i], major[i]});
      limit.lines.push_back(table.rows[i].line);
    }
  } catch (const CaseError& error) {
    auto& errors = checked.findings.errors;
    errors.insert(errors.end(), error.problems().begin(), error.problems().end());
  }
}

void choose_limit(Case& into) {
  if (into.limits.forming_limit != FormingLimit::estimate || into.given.contains("limits.forming_limit"))
    return;
  if (solver::is_low_carbon_steel(into.material) && !(into.stock && !into.stock->limit_estimate)) return;
  into.limits.forming_limit = FormingLimit::lower;
  into.computed_limit = solver::ComputedLimit{};
}

void choose_bend_limit(Case& into) {
  if (into.limits.bend_ratio || into.limits.bend_strain || !into.stock || !into.stock->least_bends) return;
  const LeastBends& bends = *into.stock->least_bends;
  into.limits.bend_ratio = bends.ratio_at(into.blank.thickness);
  if (!into.limits.bend_ratio) return;
  into.limits.bend_source = fmt::format("stock {}: {}, {}", into.stock->name, bends.grade, bends.source);
  into.stock->filled.insert("limits.bend_ratio");
}

}  // namespace halftool::io
