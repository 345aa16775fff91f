#include "io/cli/fit_verb.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <stdexcept>

#include "io/case/case.hpp"
#include "io/cli/exit_code.hpp"
#include "io/figures/panel_chart.hpp"
#include "io/table/tensile_table.hpp"
#include "solver/material/hardening.hpp"
#include "solver/material/hardening_fit.hpp"
#include "solver/material/tensile_curve.hpp"

namespace halftool::io {
namespace {

constexpr std::array<double, 2> extrapolated = {0.5, 1.0};

solver::TensileCurve curve_of(const FitOptions& options, const solver::TensileTest& test) {
  try {
    return solver::read_tensile_curve(test, options.modulus);
  } catch (const solver::TensileError& reason) {
    throw CaseError(
        {{options.file.string(), 0, "", reason.what(),
          "a test with elastic part, yield and at least 6 points up to the greatest load", reason.mend}});
  }
}

/// Young's moduli of the sheets that are formed [MPa]: magnesium, aluminium, titanium and copper alloys,
/// steel (common values, from memory).
bool is_common_modulus(double modulus) {
  constexpr std::array<std::pair<double, double>, 4> common = {
      {{4.2e4, 4.8e4}, {6.6e4, 7.8e4}, {9.5e4, 1.35e5}, {1.85e5, 2.2e5}}};
  return std::any_of(common.begin(), common.end(),
                     [&](const auto& range) { return modulus >= range.first && modulus <= range.second; });
}

/// What makes a modulus read from a test doubtful; empty: nothing.
std::string doubt_of_modulus(const solver::TensileCurve& curve) {
  constexpr double unsure = 0.03;
  if (curve.modulus_given) return "";
  if (!is_common_modulus(curve.modulus))
    return "no common sheet metal has it (aluminium 68 to 76, titanium 102 to 116, steel 190 to 215 GPa)";
  return curve.slope_error > unsure ? "the readings scatter too much to tell it" : "";
}

void print_curve(const FitOptions& options, const solver::TensileTest& test,
                 const solver::TensileCurve& curve) {
  std::cout << fmt::format("Tensile test {}: {} points, {} strain and stress\n", options.file.string(),
                           test.points.size(), test.true_values ? "true" : "engineering");
  if (curve.modulus_given && curve.slope > 0)
    std::cout << fmt::format(
        "  Young's modulus        {:.4g} GPa, as given; the readings rise by {:.4g} GPa ({} points between "
        "{:.4g} and\n"
        "                         {:.4g} MPa): what they strain beyond the modulus and a start at {:.3g} are "
        "taken off\n",
        curve.modulus / 1000, curve.slope / 1000, curve.n_elastic, curve.elastic_from, curve.elastic_to,
        curve.zero_strain);
  else if (curve.modulus_given)
    std::cout << fmt::format(
        "  Young's modulus        {:.4g} GPa, as given; no elastic part was found: what the machine gave and "
        "where\n"
        "                         the extensometer began are not taken off\n",
        curve.modulus / 1000);
  else
    std::cout << fmt::format(
        "  slope of elastic part  {:.4g} GPa, standard error {:.2g} %, from {} points between {:.4g} and "
        "{:.4g} MPa; strains shifted by {:.3g}\n",
        curve.modulus / 1000, 100 * curve.slope_error, curve.n_elastic, curve.elastic_from, curve.elastic_to,
        -curve.zero_strain);
  if (const std::string doubt = doubt_of_modulus(curve); !doubt.empty())
    std::cout << fmt::format(
        "                         doubtful: {}.\n"
        "                         Springback goes with it: give your metal's with --modulus \"70 GPa\"\n",
        doubt);
  std::cout
      << fmt::format("  offset yield Rp0.2     {:.4g} MPa\n", curve.offset_yield)
      << (curve.plateau > 0
              ? fmt::format("  yield plateau          to a plastic strain of {:.3g}: bands of flow, not "
                            "hardening; the "
                            "laws are\n"
                            "                         fitted behind it and lie below it before\n",
                            curve.plateau)
              : "")
      << fmt::format("  {:<23}{:.4g} MPa at a true strain of {:.4g}\n",
                     curve.n_necked > 0 ? "tensile strength" : "greatest stress read", curve.tensile_strength,
                     curve.uniform_strain)
      << (curve.n_necked > 0
              ? fmt::format(
                    "  cut off                {} points after the greatest load: the specimen necks there\n",
                    curve.n_necked)
              : "  cut off                nothing: the test ends at its greatest load, which may not be the "
                "sheet's\n");
}

/// Plastic strain from which the laws are fitted.
double first_strain(const solver::TensileCurve& curve) {
  return curve.plateau > 0 ? curve.flow.front().plastic_strain : solver::kOffsetStrain;
}

/// Whether a law necks far from where the test did: estimates and limits hang on that strain.
bool necks_elsewhere(const solver::HardeningFit& fit, const solver::TensileCurve& curve) {
  constexpr double far = 0.25;
  const double measured = curve.flow.back().plastic_strain;
  return curve.n_necked > 0 && std::abs(solver::uniform_strain(fit.law) - measured) > far * measured;
}

double stress_at(const solver::HardeningFit& fit, double strain) {
  return solver::flow_stress(fit.law, strain).stress;
}

void print_fits(const std::vector<solver::HardeningFit>& fits, const solver::TensileCurve& curve) {
  const double last = curve.flow.back().plastic_strain;
  std::cout << fmt::format("\nHardening laws fitted to {} points, plastic strain {:.3g} to {:.4g}\n",
                           curve.flow.size(), first_strain(curve), last)
            << fmt::format("  {:<12}{:>10}{:>12}{:>10}{:>13}{:>11}{:>11}\n", "law", "rms", "greatest",
                           "at strain", "neck at", "at 0.5", "at 1.0")
            << fmt::format("  {:<12}{:>10}{:>12}{:>10}{:>13}{:>11}{:>11}\n", "", "[MPa]", "[MPa]", "",
                           "strain", "[MPa]", "[MPa]");
  for (const auto& fit : fits) {
    if (fit.found)
      std::cout << fmt::format("  {:<12}{:>10.3g}{:>+12.3g}{:>10.3g}{:>13.4g}{:>11.1f}{:>11.1f}\n", fit.name,
                               fit.rms, fit.greatest, fit.greatest_at, solver::uniform_strain(fit.law),
                               stress_at(fit, extrapolated[0]), stress_at(fit, extrapolated[1]));
    if (fit.found && necks_elsewhere(fit, curve))
      std::cout << fmt::format(
          "  {:<12}  (necks at {:.3g}, the test at {:.3g}: a forming limit from it is as far off)\n", "",
          solver::uniform_strain(fit.law), last);
    if (!fit.remark.empty())
      std::cout << fmt::format("  {:<12}  ({})\n", fit.found ? "" : fit.name, fit.remark);
  }
  std::cout
      << "  rms and greatest: of the law's stress less the test's; above 0 the law lies above the test\n";
  std::cout << fmt::format("\nBeyond plastic strain {:.3g} nothing was measured, and there the laws part:\n",
                           last);
  for (const double strain : extrapolated) {
    double low = 1e300, high = 0;
    for (const auto& fit : fits) {
      if (!fit.found) continue;
      low = std::min(low, stress_at(fit, strain));
      high = std::max(high, stress_at(fit, strain));
    }
    std::cout << fmt::format("  at {:.1f} from {:.1f} to {:.1f} MPa, {:.0f} % apart\n", strain, low, high,
                             100 * (high / low - 1));
  }
  std::cout << "None is chosen here. A small rms says nothing of what lies beyond; a bulge test does.\n";
}

std::string name_of(const FitOptions& options) {
  return options.name.empty() ? options.file.stem().string() : options.name;
}

/// Six digits: more say nothing of a test, and the fit is no worse by them.
double rounded(double value) {
  return std::stod(fmt::format("{:.6g}", value));
}
solver::Hardening rounded(const solver::SwiftHardening& law) {
  return solver::SwiftHardening{rounded(law.strength), rounded(law.pre_strain), rounded(law.exponent)};
}
solver::Hardening rounded(const solver::VoceHardening& law) {
  return solver::VoceHardening{rounded(law.initial), rounded(law.saturation), rounded(law.rate)};
}
solver::Hardening rounded(const solver::HollomonHardening& law) {
  return solver::HollomonHardening{rounded(law.strength), rounded(law.exponent), rounded(law.initial)};
}
solver::Hardening rounded(const solver::LudwikHardening& law) {
  return solver::LudwikHardening{rounded(law.initial), rounded(law.strength), rounded(law.exponent)};
}
solver::Hardening rounded(const solver::SwiftVoceHardening& law) {
  return solver::SwiftVoceHardening{rounded(law.swift_share),
                                    std::get<solver::SwiftHardening>(rounded(law.swift)),
                                    std::get<solver::VoceHardening>(rounded(law.voce))};
}
/// Tables and two surfaces are not fitted here.
solver::Hardening rounded(const auto& law) {
  return law;
}

void print_toml(const FitOptions& options, const std::vector<solver::HardeningFit>& fits,
                const solver::TensileCurve& curve) {
  constexpr double steel = 1.5e5;  // [MPa]
  solver::SheetMaterial sheet;
  sheet.name = name_of(options);
  sheet.grade = "user";
  sheet.youngs_modulus = rounded(curve.modulus);
  sheet.poissons_ratio = curve.modulus > steel ? 0.30 : 0.33;
  std::cout << "\nFor a case file: one of these. Poisson's ratio is a common value of such metals, not from "
               "the test.\n";
  const std::string doubt =
      doubt_of_modulus(curve).empty() ? "" : "# youngs_modulus is doubtful: see above\n";
  for (const auto& fit : fits) {
    if (!fit.found) continue;
    sheet.hardening = std::visit([](const auto& law) { return rounded(law); }, fit.law);
    sheet.source = fmt::format("fit of {}'s law to {}, plastic strain {:.3g} to {:.3g}, rms {:.2g} MPa",
                               fit.name, options.file.filename().string(), first_strain(curve),
                               curve.flow.back().plastic_strain, fit.rms);
    std::cout << fmt::format("\n# {}\n{}{}", fit.name, doubt, print_sheet(sheet));
  }
}

std::vector<ChartLine> lines_of(const std::vector<solver::HardeningFit>& fits, double most) {
  std::vector<ChartLine> lines;
  constexpr int steps = 200;
  for (const auto& fit : fits) {
    if (!fit.found) continue;
    ChartLine line{fit.name, {}};
    for (int i = 0; i <= steps; ++i)
      line.points.emplace_back(most * i / steps, stress_at(fit, most * i / steps));
    lines.push_back(std::move(line));
  }
  return lines;
}

void draw(const FitOptions& options, const std::vector<solver::HardeningFit>& fits,
          const solver::TensileCurve& curve) {
  std::vector<Eigen::Vector2d> measured;
  for (const auto& point : curve.flow) measured.emplace_back(point.plastic_strain, point.stress);
  std::vector<ChartPanel> panels;
  for (const auto& [heading, most] : {std::pair<std::string, double>("As measured", measured.back().x()),
                                      std::pair<std::string, double>("Extrapolated", extrapolated.back())}) {
    ChartPanel panel{heading, "plastic strain", "true stress [MPa]", lines_of(fits, most)};
    panel.points = measured;
    panel.points_name = "test";
    panel.values = chart_values(panel.lines, panel.points);
    panels.push_back(std::move(panel));
  }
  const Caption caption{
      fmt::format("{}: hardening laws fitted to a tensile test (user)", name_of(options)),
      fmt::format("measured to plastic strain {:.3g}; beyond it the laws are guesses",
                  curve.flow.back().plastic_strain),
      fmt::format("{} · Rp0.2 {:.4g} MPa · tensile strength {:.4g} MPa · modulus {:.4g} GPa",
                  options.file.filename().string(), curve.offset_yield, curve.tensile_strength,
                  curve.modulus / 1000)};
  draw_panel_chart(options.picture, caption, panels);
  std::cout << "\npicture: " << options.picture.string() << '\n';
}

}  // namespace

int run_fit(const FitOptions& options) {
  const auto test = read_tensile_test(options.file);
  const auto curve = curve_of(options, test);
  const auto fits = solver::fit_hardening(curve.flow);
  print_curve(options, test, curve);
  print_fits(fits, curve);
  print_toml(options, fits, curve);
  if (!options.picture.empty()) draw(options, fits, curve);
  return as_int(ExitCode::done);
}

}  // namespace halftool::io
