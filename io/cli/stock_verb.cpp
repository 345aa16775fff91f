#include "io/cli/stock_verb.hpp"

#include <fmt/format.h>

#include <iostream>

#include "io/case/case.hpp"
#include "io/case/nearest_word.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/sheet_facts.hpp"
#include "io/figures/limit_chart.hpp"
#include "io/figures/panel_chart.hpp"
#include "io/stock/stock.hpp"
#include "solver/assessment/computed_limit.hpp"
#include "solver/assessment/forming_limit.hpp"
#include "solver/material/hardening.hpp"
#include "solver/material/metal_point.hpp"
#include "solver/material/tensile_curve.hpp"

namespace halftool::io {
namespace {

constexpr double listed_thickness = 1;  // [mm]

const StockSheet& sheet_of(const std::string& name) {
  if (const StockSheet* sheet = find_stock(name)) return *sheet;
  const auto nearest = nearest_word(name, stock_names());
  throw CaseError(
      {{"halftool stock", 0, name, "no sheet of this name in the stock",
        fmt::format("{}", fmt::join(stock_names(), ", ")),
        nearest.empty() ? "choose one of these names" : fmt::format("did you mean {}?", nearest)}});
}

std::string to_paste(const StockSheet& sheet) {
  return fmt::format("[sheet.material]\nstock = \"{}\"\n", sheet.key);
}

solver::SheetMaterial material_of(const StockSheet& sheet) {
  return parse_sheet(to_paste(sheet), "stock").material;
}

std::string limit_words(const StockSheet& sheet, const solver::SheetMaterial& material, double thickness) {
  if (!sheet.limit_estimate) return "none found";
  return fmt::format("est. {:.3f}", solver::estimated_limit(material, thickness).plane_strain);
}

/// Of a sheet whose rate sensitivity is known: a limit computed without it is too low.
std::string computed_words(const solver::SheetMaterial& material) {
  if (solver::rate_exponent(material) <= 0) return "";
  const auto plane_strain = [](const solver::SheetMaterial& sheet) {
    return solver::limit_major(solver::computed_limit(sheet, solver::kUsualImperfection), 0);
  };
  solver::SheetMaterial without = material;
  without.strain_rate.reset();
  return fmt::format(
      "  computed limit: {:.3f} true strain at plane strain with imperfection {:g} and rate sensitivity "
      "m {:g}, {:.3f} without m (Marciniak and Kuczynski 1967; not measured)\n",
      plane_strain(material), solver::kUsualImperfection, solver::rate_exponent(material),
      plane_strain(without));
}

std::string strength_line(const char* what, double by_law, const PublishedStrength& published) {
  return fmt::format("  {}: {:.0f} MPa by the law, {:.4g} MPa published ({:+.1f} %): {}{}{}\n", what, by_law,
                     published.stress, 100 * (by_law / published.stress - 1), published.source,
                     published.reason.empty() ? "" : "; ", published.reason);
}
/// The law against strengths of the tensile test that publications give; empty where none was found.
std::string strength_words(const StockSheet& sheet, const solver::SheetMaterial& material) {
  if (!sheet.offset_yield && !sheet.tensile_strength) return "";
  const auto law = solver::strengths_of(solver::tension_curve(material), material.youngs_modulus);
  std::string text = "\nHeld against published strengths\n";
  if (sheet.offset_yield) text += strength_line("yield at 0.2 %", law.offset_yield, *sheet.offset_yield);
  if (sheet.tensile_strength)
    text += strength_line("tensile strength", law.tensile_strength, *sheet.tensile_strength);
  return text;
}

std::string law_name(const solver::SheetMaterial& material) {
  return law_words(material.hardening) + (material.backstress.empty() ? "" : " + backstress");
}

std::string yield_name(const solver::YieldCondition& yield) {
  if (std::holds_alternative<solver::RValues>(yield)) return "Hill 1948";
  return std::holds_alternative<solver::VonMises>(yield) ? "von Mises" : "Yld2000-2d";
}

/// Compression after tension, its stress with the sign turned over the sum of plastic strain: what of the
/// hardening a reversal takes back.
ChartLine reversal_line(const solver::SheetMaterial& material) {
  constexpr double turn = 0.05;  // strain
  constexpr int steps = 200;
  ChartLine line{fmt::format("compressed after {:g} of tension, sign turned", turn), {}};
  solver::MetalPoint point(material);
  point.pull(turn, steps);
  const double before = point.state().equivalent_plastic_strain;
  for (int i = 1; i <= steps; ++i) {
    const double stress = point.pull(turn - 4 * turn * i / steps);
    if (point.state().equivalent_plastic_strain > before)
      line.points.emplace_back(point.state().equivalent_plastic_strain, -stress);
  }
  return line;
}

ChartPanel flow_panel(const solver::SheetMaterial& material) {
  ChartPanel panel{"Hardening", "plastic strain", "true stress [MPa]", {{law_name(material), {}}}};
  const solver::Hardening tension = solver::tension_curve(material);
  constexpr int steps = 200;
  constexpr double most = 0.6;
  for (int i = 0; i <= steps; ++i) {
    const double strain = most * i / steps;
    panel.lines.front().points.emplace_back(strain, solver::flow_stress(tension, strain).stress);
  }
  if (solver::hardens_kinematically(material)) panel.lines.push_back(reversal_line(material));
  panel.values = chart_values(panel.lines, {});
  return panel;
}

ChartPanel limit_panel(const StockSheet& sheet, const solver::SheetMaterial& material, double thickness) {
  ChartPanel panel{"Forming limit", "minor true strain", "major true strain"};
  if (!sheet.limit_estimate) {
    panel.note = "no measured curve was found";
    panel.values = {Eigen::Vector2d(-0.3, 0), Eigen::Vector2d(0.3, 0.6)};
    return panel;
  }
  ChartLine line{fmt::format("estimate for {:g} mm (Keeler and Brazier 1977)", thickness), {}};
  for (const Eigen::Vector2d& point :
       sample_limit(solver::estimated_limit(material, thickness), line.name).points)
    if (std::abs(point.x()) < 0.305) line.points.push_back(point);
  panel.lines = {line};
  panel.values = chart_values(panel.lines, {});
  return panel;
}

void draw(const StockSheet& sheet, const solver::SheetMaterial& material, const StockOptions& options) {
  const Caption caption{
      fmt::format("{}: {} ({})", sheet.key, sheet.name, sheet.worst_grade()), "valid for: " + sheet.valid_for,
      material.source +
          " · forming limit: " + (sheet.limit_estimate ? "estimated, not measured" : "none found")};
  draw_panel_chart(options.picture, caption,
                   {flow_panel(material), limit_panel(sheet, material, options.thickness)});
  std::cout << "\npicture: " << options.picture.string() << '\n';
}

}  // namespace

int run_stock_list() {
  std::cout << fmt::format("{:<17}{:>7}  {:<32}{:<12}{:<13}{}\n", "sheet", "yield", "hardening", "condition",
                           "limit", "worst grade")
            << fmt::format("{:<17}{:>7}  {:<32}{:<12}{:<13}\n", "", "[MPa]", "", "", "at 1 mm");
  for (const StockSheet& sheet : stock()) {
    const auto material = material_of(sheet);
    std::cout << fmt::format("{:<17}{:>7.0f}  {:<32}{:<12}{:<13}{}\n", sheet.key,
                             solver::flow_stress(material.hardening, 0).stress, law_name(material),
                             yield_name(material.yield), limit_words(sheet, material, listed_thickness),
                             sheet.worst_grade());
  }
  std::cout
      << "\nLimit: major true strain at plane strain, estimated from hardening and thickness (Keeler and\n"
         "Brazier 1977), which was made for low-carbon steel; for other metals none was found: measure one.\n"
         "halftool stock NAME shows constants, grades and sources. Coils differ by some ten percent: where "
         "it\n"
         "matters, test yours and fit it (halftool stock fit).\n";
  return as_int(ExitCode::done);
}

int run_stock_show(const StockOptions& options) {
  const StockSheet& sheet = sheet_of(options.name);
  const auto material = material_of(sheet);
  std::cout << fmt::format("{}: {}\n  worst grade: {}\n  valid for: {}\n", sheet.key, sheet.name,
                           sheet.worst_grade(), sheet.valid_for);
  std::cout << "  reread: " << sheet.reread << '\n';
  if (!sheet.caution.empty()) std::cout << "  caution: " << sheet.caution << '\n';
  std::cout << "\nConstants\n";
  for (const StockConstant& constant : sheet.constants)
    std::cout << fmt::format("  {} = {}\n      {}: {}{}{}\n", constant.origin.key, constant.origin.value,
                             constant.origin.grade, constant.origin.source,
                             constant.origin.note.empty() ? "" : "; ", constant.origin.note);
  if (std::holds_alternative<solver::VonMises>(material.yield))
    std::cout << "  r-values: none found; yields by von Mises\n";
  std::cout << fmt::format(
                   "  forming limit: {}\n",
                   sheet.limit_estimate
                       ? fmt::format("{} true strain at plane strain and {:g} mm, Keeler and Brazier 1977",
                                     limit_words(sheet, material, options.thickness), options.thickness)
                       : "no measured curve was found; the estimate was not made for this metal")
            << computed_words(material) << strength_words(sheet, material) << "\nWhat they say\n"
            << sheet_facts(material) << "\nFor a case file, by name\n\n"
            << to_paste(sheet) << "\nor in full, to be changed\n\n"
            << print_sheet(material);
  if (!options.picture.empty()) draw(sheet, material, options);
  return as_int(ExitCode::done);
}

}  // namespace halftool::io
