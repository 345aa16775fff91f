#include "io/table/tensile_table.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/quantity.hpp"

namespace halftool::io {
namespace {

const std::string example_strain = "engineering strain [%]";
const std::string example_stress = "engineering stress [MPa]";

[[noreturn]] void refuse(const NumberTable& table, int line, const std::string& key, std::string found,
                         std::string allowed, std::string mend) {
  throw CaseError({{table.file, line, key, std::move(found), std::move(allowed), std::move(mend)}});
}

bool is_true(const NumberTable& table, std::size_t column) {
  const auto& [heading, name, unit] = table.columns[column];
  const bool says_true = name.find("true") != std::string::npos;
  const bool says_engineering =
      name.find("eng") != std::string::npos || name.find("nominal") != std::string::npos;
  if (says_true != says_engineering) return says_true;
  refuse(table, table.heading_line, heading, name, "engineering or true strain and stress",
         fmt::format("say which in the heading, for example {}, {}", example_strain, example_stress));
}

/// Newtons per square millimetre are what many machines write for MPa.
double stress_factor(const NumberTable& table, std::size_t column) {
  const auto& [heading, name, unit] = table.columns[column];
  for (const char* same : {"N/mm2", "N/mm^2", "N/mm\xC2\xB2"})
    if (unit == same) return 1;
  const auto one = parse_quantity("1 " + unit, Dimension::pressure);
  if (!unit.empty() && one.value) return *one.value;
  refuse(table, table.heading_line, heading, unit.empty() ? "no unit" : unit,
         fmt::format("one of {}", fmt::join(units_of(Dimension::pressure), ", ")),
         "write the unit of stress in brackets, for example [MPa] or [ksi]");
}

/// Tension counts above 0; compression, or a machine's own sign, is not turned here.
void require_tension(const NumberTable& table, std::size_t column, const std::vector<double>& readings) {
  const auto below = std::count_if(readings.begin(), readings.end(), [](double value) { return value < 0; });
  if (2 * static_cast<std::size_t>(below) <= readings.size()) return;
  refuse(table, table.heading_line, table.columns[column].heading,
         fmt::format("{} of {} readings below 0", below, readings.size()),
         "a test in tension, which counts above 0",
         "turn the signs of the column if the machine counts tension below 0");
}

void require_rising(const NumberTable& table, std::size_t column, const std::vector<double>& strains) {
  for (std::size_t i = 1; i < strains.size(); ++i)
    if (strains[i] < strains[i - 1])
      refuse(table, table.rows[i].line, table.columns[column].heading,
             fmt::format("{:g} after {:g}", strains[i], strains[i - 1]), "strains that do not fall",
             "cut unloadings and what was read after fracture, and put the rows in order");
}

void require_likely(const NumberTable& table, std::size_t strain, std::size_t stress,
                    const solver::TensileTest& test) {
  constexpr double largest_strain = 2, weakest = 10, strongest = 5000;  // [MPa]; as in a case file
  const double reached = test.points.back().strain;
  if (reached > largest_strain)
    refuse(table, table.heading_line, table.columns[strain].heading,
           fmt::format("strains up to {:g}", reached), "strains up to 2",
           "write [%] in the heading if the strains are percent");
  double top = 0;
  for (const auto& point : test.points) top = std::max(top, point.stress);
  if (top < weakest || top > strongest)
    refuse(table, table.heading_line, table.columns[stress].heading,
           fmt::format("stresses up to {:.4g} MPa", top), "a tensile strength between 10 and 5000 MPa",
           "check the unit of stress in the heading");
}

void refuse_plastic(const NumberTable& table, std::size_t strain) {
  const auto& [heading, name, unit] = table.columns[strain];
  if (name.find("plastic") != std::string::npos)
    refuse(table, table.heading_line, heading, "plastic strain", "total strain, elastic part included",
           "give the readings of the test; a curve over plastic strain needs no fit to be used: write it as "
           "flow_curve in [sheet.material]");
}

}  // namespace

solver::TensileTest tensile_test_in(const NumberTable& table) {
  const auto strain = column_with(table, "strain", example_strain);
  refuse_plastic(table, strain);
  const auto stress = column_with(table, "stress", example_stress);
  solver::TensileTest test;
  test.true_values = is_true(table, strain);
  if (is_true(table, stress) != test.true_values)
    refuse(table, table.heading_line, "",
           fmt::format("{} beside {}", table.columns[strain].heading, table.columns[stress].heading),
           "strain and stress of one kind", "give both engineering or both true");
  const double of_strain = strain_factor(table, strain), of_stress = stress_factor(table, stress);
  constexpr std::size_t fewest = 8;
  if (table.rows.size() < fewest)
    refuse(table, 0, "", fmt::format("{} rows", table.rows.size()), "at least 8",
           "give the whole curve, elastic part included");
  const auto strains = numbers_in(table, strain), stresses = numbers_in(table, stress);
  require_tension(table, strain, strains);
  require_tension(table, stress, stresses);
  require_rising(table, strain, strains);
  for (std::size_t i = 0; i < strains.size(); ++i)
    test.points.push_back({of_strain * strains[i], of_stress * stresses[i]});
  require_likely(table, strain, stress, test);
  return test;
}

solver::TensileTest read_tensile_test(const std::filesystem::path& file) {
  return tensile_test_in(read_number_table(file));
}

}  // namespace halftool::io
