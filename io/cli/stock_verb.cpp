#include "io/cli/stock_verb.hpp"

#include <fmt/format.h>

#include <iostream>
#include <utility>

#include "io/case/case.hpp"
#include "io/case/nearest_word.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/sheet_facts.hpp"
#include "io/figures/limit_chart.hpp"
#include "io/figures/panel_chart.hpp"
#include "io/report/limit_text.hpp"
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

/// The limit at plane strain that judges a case with this sheet, with its kind.
std::string limit_words(const StockSheet& sheet, const solver::SheetMaterial& material, double thickness) {
  const double estimate = solver::estimated_limit(material, thickness).plane_strain;
  if (sheet.limit_estimate) return fmt::format("{:.3f} est.", estimate);
  const double computed = solver::computed_plane_strain(material, solver::kUsualImperfection);
  return computed < estimate ? fmt::format("{:.3f} comp.", computed) : fmt::format("{:.3f} est.", estimate);
}

/// The estimate, what is computed (with and without rate sensitivity), and which of them judges.
std::string both_limits(const StockSheet& sheet, const solver::SheetMaterial& material, double thickness) {
  const auto plane_strain = [](const solver::SheetMaterial& metal) {
    return solver::computed_plane_strain(metal, solver::kUsualImperfection);
  };
  const double m = solver::rate_exponent(material);
  std::string rate;
  if (m > 0) {
    solver::SheetMaterial without = material;
    without.strain_rate.reset();
    rate = fmt::format(" and rate sensitivity m {:g}, {:.3f} without m", m, plane_strain(without));
  }
  const solver::EstimatedLimit estimate = solver::estimated_limit(material, thickness);
  return fmt::format(
      "  forming limit, true strain at plane strain: no measured curve was found; {} judges\n"
      "    estimate {:.3f} for {:g} mm (Keeler and Brazier 1977{})\n"
      "      {}\n"
      "    computed {:.3f} with imperfection {:g}{} (Marciniak and Kuczynski 1967; not measured)\n",
      sheet.limit_estimate ? "the estimate" : "the lower one", estimate.plane_strain, thickness,
      sheet.limit_estimate ? "" : "; not made for this metal", estimate_formula(estimate),
      plane_strain(material), solver::kUsualImperfection, rate);
}

std::string bend_words(const StockSheet& sheet) {
  if (!sheet.least_bends) return "  least bends: none found\n";
  std::string text = "  least inside radius of bends over the thickness, up to a thickness of:";
  for (const auto& [thickness, ratio] : sheet.least_bends->ratios)
    text += fmt::format("{} {:g} mm {:g}", text.ends_with(':') ? "" : ",", thickness, ratio);
  return text + fmt::format("\n      {}: {}\n", sheet.least_bends->grade, sheet.least_bends->source);
}

/// What the sheet's name brings along and a pasted table does not.
std::string paste_heading(const StockSheet& sheet) {
  auto text =
      fmt::format("# {}, of the stock as {}. Valid for: {}\n", sheet.name, sheet.key, sheet.valid_for);
  if (!sheet.caution.empty()) text += "# Caution: " + sheet.caution + '\n';
  for (const StockConstant& constant : sheet.constants)
    text += fmt::format("# {}: {}\n", constant.origin.key, constant.origin.grade);
  return text;
}

/// The least bends as a table to be taken over, which a case without the sheet's name has to give itself.
std::string limits_to_paste(const StockSheet& sheet) {
  if (!sheet.least_bends) return "";
  std::string text = fmt::format(
      "\n# By name the stock's least bend judges bends by itself; beside constants in full it has to stand "
      "in the "
      "case\n# ({}: {}). One of these, by thickness:\n# [limits]\n",
      sheet.least_bends->grade, sheet.least_bends->source);
  double from = 0;
  for (const auto& [thickness, ratio] : sheet.least_bends->ratios) {
    text += fmt::format("# bend_ratio = {:g}   # {}up to {:g} mm\n", ratio,
                        from > 0 ? fmt::format("above {:g}, ", from) : "", thickness);
    from = thickness;
  }
  return text;
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

/// A table ends where its test did; what follows is drawn apart.
ChartPanel flow_panel(const solver::SheetMaterial& material) {
  ChartPanel panel{"Hardening", "plastic strain", "true stress [MPa]"};
  const solver::Hardening tension = solver::tension_curve(material);
  const auto curve = [&](const std::string& name, double from, double to) {
    ChartLine line{name, {}};
    constexpr int steps = 200;
    for (int i = 0; i <= steps; ++i) {
      const double strain = from + (to - from) * i / steps;
      line.points.emplace_back(strain, solver::flow_stress(tension, strain).stress);
    }
    return line;
  };
  constexpr double most = 0.6;
  const auto* table = std::get_if<solver::TableHardening>(&material.hardening);
  const double measured = table == nullptr ? most : table->points.back()[0];
  panel.lines.push_back(curve(law_name(material), 0, measured));
  if (table != nullptr) panel.lines.push_back(curve("drawn on beyond the table", measured, measured + 0.4));
  if (solver::hardens_kinematically(material)) panel.lines.push_back(reversal_line(material));
  panel.values = chart_values(panel.lines, {});
  return panel;
}

/// The curve that judges comes first: it is drawn thick and solid.
ChartPanel limit_panel(const StockSheet& sheet, const solver::SheetMaterial& material, double thickness) {
  ChartPanel panel{"Forming limit", "minor true strain", "major true strain"};
  const auto add = [&](const solver::FormingLimit& limit, const std::string& name) {
    ChartLine line{name, {}};
    for (const Eigen::Vector2d& point : sample_limit(limit, name).points)
      if (std::abs(point.x()) < 0.305) line.points.push_back(point);
    panel.lines.push_back(std::move(line));
  };
  const auto estimate = solver::estimated_limit(material, thickness);
  const auto computed = solver::computed_limit(material, solver::kUsualImperfection);
  const bool estimate_judges =
      sheet.limit_estimate || estimate.plane_strain < solver::limit_major(computed, 0);
  const auto judging = [&](bool judges) {
    if (!judges) return "";
    return sheet.limit_estimate ? ", judges" : ", judges at plane strain";
  };
  add(estimate,
      fmt::format("estimate for {:g} mm (Keeler and Brazier 1977){}", thickness, judging(estimate_judges)));
  add(computed,
      fmt::format("computed, imperfection {:g}{}", solver::kUsualImperfection, judging(!estimate_judges)));
  if (!estimate_judges) std::swap(panel.lines.front(), panel.lines.back());
  panel.values = chart_values(panel.lines, {});
  return panel;
}

void draw(const StockSheet& sheet, const solver::SheetMaterial& material, const StockOptions& options) {
  const Caption caption{fmt::format("{}: {} ({})", sheet.key, sheet.name, sheet.worst_grade()),
                        "valid for: " + sheet.valid_for,
                        material.source + " · forming limit: not measured, " +
                            (sheet.limit_estimate ? "the estimate judges" : "the lower curve judges")};
  draw_panel_chart(options.picture, caption,
                   {flow_panel(material), limit_panel(sheet, material, options.thickness)});
  std::cout << "\npicture: " << options.picture.string() << '\n';
}

}  // namespace

int run_stock_list() {
  std::cout << fmt::format("{:<19}{:>7}  {:<32}{:<12}{:<14}{}\n", "sheet", "Rp0.2", "hardening", "condition",
                           "limit", "worst grade")
            << fmt::format("{:<19}{:>7}  {:<32}{:<12}{:<14}\n", "", "[MPa]", "", "", "at 1 mm");
  for (const StockSheet& sheet : stock()) {
    const auto material = material_of(sheet);
    const auto strengths = solver::strengths_of(solver::tension_curve(material), material.youngs_modulus);
    std::cout << fmt::format("{:<19}{:>7.0f}  {:<32}{:<12}{:<14}{}\n", sheet.key, strengths.offset_yield,
                             law_name(material), yield_name(material.yield),
                             limit_words(sheet, material, listed_thickness), sheet.worst_grade());
  }
  std::cout << "\nRp0.2: yield at 0.2 % plastic strain, by the law.\n"
               "Limit: major true strain at plane strain that judges a case without a measured curve. est.: "
               "estimated\n"
               "from hardening and thickness (Keeler and Brazier 1977), which was made for low-carbon steel; "
               "comp.:\n"
               "computed (Marciniak and Kuczynski 1967), where it is the lower of the two for another metal. "
               "None is\n"
               "measured: measure one.\n"
               "halftool stock NAME shows constants, grades and sources. Coils differ by some ten percent: "
               "where it\n"
               "matters, test yours and fit it (halftool stock fit).\n";
  return as_int(ExitCode::done);
}

int run_stock_show(const StockOptions& options) {
  const StockSheet& sheet = sheet_of(options.name);
  const auto material = material_of(sheet);
  std::cout << fmt::format("{}: {}\n  worst grade of its constants: {}\n  valid for: {}\n", sheet.key,
                           sheet.name, sheet.worst_grade(), sheet.valid_for);
  std::cout << "  reread: " << sheet.reread << '\n';
  if (!sheet.caution.empty()) std::cout << "  caution: " << sheet.caution << '\n';
  std::cout << "\nConstants\n";
  for (const StockConstant& constant : sheet.constants)
    std::cout << fmt::format("  {} = {}\n      {}: {}{}{}\n", constant.origin.key, constant.origin.value,
                             constant.origin.grade, constant.origin.source,
                             constant.origin.note.empty() ? "" : "; ", constant.origin.note);
  if (std::holds_alternative<solver::VonMises>(material.yield))
    std::cout << "  r-values: none found; yields by von Mises\n";
  std::cout << both_limits(sheet, material, options.thickness) << bend_words(sheet)
            << strength_words(sheet, material) << "\nWhat they say\n"
            << sheet_facts(material) << "\nFor a case file, by name\n\n"
            << to_paste(sheet) << "\nor in full, to be changed\n\n"
            << paste_heading(sheet) << print_sheet(material) << limits_to_paste(sheet);
  if (!options.picture.empty()) draw(sheet, material, options);
  return as_int(ExitCode::done);
}

}  // namespace halftool::io
