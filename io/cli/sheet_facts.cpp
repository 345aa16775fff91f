#include "io/cli/sheet_facts.hpp"

#include <fmt/format.h>

#include <array>
#include <numbers>

#include "solver/material/flow_table.hpp"
#include "solver/material/scaled_strength.hpp"
#include "solver/material/yld2000_fit.hpp"

namespace halftool::io {
namespace {

constexpr std::array<double, 2> shown_strains = {0.1, 0.3};

std::string flow_facts(const solver::SheetMaterial& material) {
  const solver::Hardening hardening = solver::tension_curve(material);
  auto text =
      fmt::format("#   flow stress {:.4g} MPa at first yield", solver::flow_stress(hardening, 0).stress);
  for (const double strain : shown_strains)
    text += fmt::format(", {:.4g} MPa at plastic strain {:g}", solver::flow_stress(hardening, strain).stress,
                        strain);
  text += fmt::format("; greatest load in tension at {:.3g}\n", solver::uniform_strain(hardening));
  const solver::SheetMaterial in_press = solver::with_strength(material, solver::rate_factor(material));
  const auto* points = std::get_if<solver::TableHardening>(&in_press.hardening);
  if (points == nullptr) return text;
  const solver::FlowTable table(*points);
  return text + fmt::format(
                    "#   flow curve of {} points to plastic strain {:g}; beyond it {:.4g} MPa times "
                    "(plastic strain / {:g})^{:.4f}, assumed\n",
                    table.strains().size(), table.last_strain(), table.stresses().back(), table.last_strain(),
                    table.exponent());
}

/// Yield stresses and r-values that the condition gives in tension.
std::string tension_facts(const solver::YieldCondition& yield) {
  constexpr double degree = std::numbers::pi / 180;
  std::string text;
  for (int angle = 0; angle <= 90; angle += 15) {
    const auto test = solver::tension_test(yield, angle * degree);
    text += fmt::format("#   tension at {:2} deg: yield {:.4f} of the flow stress, r {:.4f}\n", angle,
                        test.ratio, test.r_value);
  }
  const auto test = solver::equibiaxial_test(yield);
  return text + fmt::format("#   equibiaxial tension: yield {:.4f} of the flow stress, r {:.4f}\n",
                            test.ratio, test.r_value);
}

std::string yield_facts(const solver::Yld2000& yield) {
  return fmt::format("#   Yld2000-2d, exponent {:g}, alpha {:.5f}\n", yield.exponent,
                     fmt::join(yield.alpha, " ")) +
         tension_facts(yield);
}

std::string yield_facts(const solver::RValues& r) {
  return fmt::format("#   Hill 1948 from r-values {:g}, {:g}, {:g}: the yield stresses follow from them\n",
                     r.r0, r.r45, r.r90) +
         tension_facts(r);
}

std::string fit_facts(const solver::Yld2000Tests& tests) {
  constexpr std::array<const char*, 4> names = {"0 deg", "45 deg", "90 deg", "equibiaxial"};
  const auto fit = solver::fit_yld2000(tests);
  auto text = yield_facts(fit.yield) + "#   fitted to tests:\n";
  for (std::size_t i = 0; i < names.size(); ++i)
    text += fmt::format("#     {}: yield {:.4f} given, {:.4f} returned; r {:.4f} given, {:.4f} returned\n",
                        names.at(i), tests.yield_ratios.at(i), fit.returned.at(i).ratio, tests.r_values.at(i),
                        fit.returned.at(i).r_value);
  return text +
         fmt::format("#     largest miss {:.1e} (of a yield ratio, or of r/(1 + r))\n", fit.largest_miss);
}

}  // namespace

std::string sheet_facts(const solver::SheetMaterial& material) {
  auto text = fmt::format("# sheet: {}\n", material.name) + flow_facts(material) +
              fmt::format("#   hardening {}\n", hardening_words(material));
  if (const auto* r = std::get_if<solver::RValues>(&material.yield)) text += yield_facts(*r);
  if (const auto* yield = std::get_if<solver::Yld2000>(&material.yield)) text += yield_facts(*yield);
  if (const auto* tests = std::get_if<solver::Yld2000Tests>(&material.yield)) text += fit_facts(*tests);
  return text;
}

std::string rate_words(const solver::SheetMaterial& material) {
  if (!material.strain_rate) return "";
  const solver::StrainRate& rate = *material.strain_rate;
  if (!rate.press || !rate.test)
    return fmt::format("rate sensitivity m = {:g} for a computed forming limit; none in the press",
                       rate.exponent);
  return fmt::format(
      "flow stress times {:.4f} for a strain rate of {:g} per second in the press and {:g} in the test (m = "
      "{:g}, a "
      "constant factor, not computed from the run)",
      solver::rate_factor(material), *rate.press, *rate.test, rate.exponent);
}

std::string hardening_words(const solver::SheetMaterial& material) {
  std::string words =
      "isotropic: stress after reverse bending is overstated; a flange, whose reverse bending takes "
      "springback back, opens too little";
  if (!solver::hardens_kinematically(material) && solver::has_kinematic_constants(material))
    words = "isotropic, as asked for, with the tension curve of the kinematic constants" +
            words.substr(words.find(':'));
  else if (std::holds_alternative<solver::YoshidaUemoriHardening>(material.hardening))
    words = "kinematic, two surfaces (Yoshida and Uemori 2002)";
  else if (solver::hardens_kinematically(material))
    words = fmt::format(
        "kinematic, {} of backstress (Chaboche 1986)",
        material.backstress.size() == 1 ? "one term" : fmt::format("{} terms", material.backstress.size()));
  if (material.strain_rate) words += "; " + rate_words(material);
  if (!material.falling_modulus)
    return words + "; Young's modulus constant: springback of strained metal is understated";
  return words + fmt::format("; Young's modulus falls from {:.4g} to {:.4g} GPa with plastic strain",
                             material.youngs_modulus / 1000, material.falling_modulus->saturated / 1000);
}

std::string law_words(const solver::Hardening& hardening) {
  if (const auto* swift = std::get_if<solver::SwiftHardening>(&hardening))
    return fmt::format("Swift, n {:.3g}", swift->exponent);
  if (const auto* voce = std::get_if<solver::VoceHardening>(&hardening))
    return fmt::format("Voce to {:.4g} MPa", voce->saturation);
  if (const auto* hollomon = std::get_if<solver::HollomonHardening>(&hardening))
    return fmt::format("Hollomon, n {:.3g}", hollomon->exponent);
  if (const auto* ludwik = std::get_if<solver::LudwikHardening>(&hardening))
    return fmt::format("Ludwik, n {:.3g}", ludwik->exponent);
  if (const auto* blend = std::get_if<solver::SwiftVoceHardening>(&hardening))
    return fmt::format("{:.0f} % Swift, rest Voce", 100 * blend->swift_share);
  if (const auto* two = std::get_if<solver::YoshidaUemoriHardening>(&hardening))
    return fmt::format("two surfaces, yield {:.4g} MPa", two->yield);
  return fmt::format("table to plastic strain {:g}",
                     std::get<solver::TableHardening>(hardening).points.back()[0]);
}

std::string yield_words(const solver::YieldCondition& yield) {
  if (const auto* r = std::get_if<solver::RValues>(&yield))
    return fmt::format(", Hill 1948 with r {:g}, {:g}, {:g}", r->r0, r->r45, r->r90);
  if (const auto* yld = std::get_if<solver::Yld2000>(&yield))
    return fmt::format(", Yld2000-2d with exponent {:g}", yld->exponent);
  if (const auto* tests = std::get_if<solver::Yld2000Tests>(&yield))
    return fmt::format(", Yld2000-2d with exponent {:g}, fitted to tests", tests->exponent);
  return "";
}

}  // namespace halftool::io
