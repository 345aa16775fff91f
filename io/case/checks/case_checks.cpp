#include "io/case/checks/case_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "io/case/document.hpp"
#include "io/case/key_path.hpp"
#include "io/case/quantity.hpp"

namespace halftool::io {
namespace {

std::string mpa(double pressure) {
  return print_quantity(pressure, Dimension::pressure, "MPa");
}

/// The law's flow stress before any plastic strain [MPa].
double first_yield(const solver::Hardening& hardening) {
  if (const auto* swift = std::get_if<solver::SwiftHardening>(&hardening))
    return swift->strength * std::pow(swift->pre_strain, swift->exponent);
  return std::get<solver::VoceHardening>(hardening).initial;
}

bool is_swift(const CheckedCase& c) {
  return std::holds_alternative<solver::SwiftHardening>(c.values.material.hardening);
}

}  // namespace

bool CheckedCase::sound(const std::vector<std::string>& keys) const {
  const auto touches = [&](const std::string& other) {
    return std::any_of(keys.begin(), keys.end(), [&](const std::string& key) {
      return is_within(other, key) || is_within(key, other);
    });
  };
  return std::none_of(findings.errors.begin(), findings.errors.end(),
                      [&](const auto& e) { return touches(e.key); }) &&
         std::none_of(undecided.begin(), undecided.end(), touches) &&
         std::none_of(meant.begin(), meant.end(), touches);
}

bool CheckedCase::decided(const std::string& table) const {
  return std::none_of(undecided.begin(), undecided.end(),
                      [&](const auto& key) { return parent_of(key) == table; });
}

void CheckedCase::error(const std::string& key, std::string found, std::string allowed,
                        std::string mend) const {
  const auto line = lines.find(key);
  findings.error(line == lines.end() ? 0 : line->second, key, std::move(found), std::move(allowed),
                 std::move(mend));
}

void CheckedCase::warning(const std::string& key, std::string found, std::string allowed,
                          std::string mend) const {
  const auto line = lines.find(key);
  findings.warning(line == lines.end() ? 0 : line->second, key, std::move(found), std::move(allowed),
                   std::move(mend));
}

void check_sheet(const CheckedCase& c) {
  const auto& material = c.values.material;
  const std::string law = is_swift(c) ? "sheet.material.swift" : "sheet.material.voce";
  if (!c.sound({law})) return;
  if (const auto* voce = std::get_if<solver::VoceHardening>(&material.hardening)) {
    if (voce->saturation < voce->initial) {
      c.error(law + ".saturation", mpa(voce->saturation),
              fmt::format("at least the initial stress, {}", mpa(voce->initial)),
              "a sheet does not soften here; are initial and saturation exchanged?");
      return;
    }
  }
  const double yield = first_yield(material.hardening);
  const auto key = law + (is_swift(c) ? ".strength" : ".initial");
  constexpr double largest_elastic_strain =
      0.02;  // common practice, no source: the strongest sheet stays below 0.01
  if (c.sound({"sheet.material.youngs_modulus"}) && yield > largest_elastic_strain * material.youngs_modulus)
    c.error(key, fmt::format("first yield at {}", mpa(yield)),
            fmt::format("at most {}, 2 % of Young's modulus",
                        mpa(largest_elastic_strain * material.youngs_modulus)),
            "check the units of the hardening constants and of youngs_modulus");
  constexpr double steel = 1.8e5;
  if (c.sound({"sheet.material.youngs_modulus", "limits"}) &&
      c.values.limits.forming_limit == FormingLimit::estimate && material.youngs_modulus < steel)
    c.warning("limits.forming_limit", "estimate", "a formula for low-carbon steel",
              "take the share of the forming limit as a rough sign only, or write forming_limit = \"none\"");
  const auto peak_known = c.sound({"step"}) && !c.values.steps.back().schedule.empty();
  constexpr double plane_stress_share = 0.3;  // of yield: our judgement
  if (peak_known && c.sound({"method"}) && !c.values.press.normal_stress &&
      c.values.peak_pressure() > plane_stress_share * yield)
    c.warning("method.normal_stress", "false",
              fmt::format("pressure below {:.0f} % of first yield", 100 * plane_stress_share),
              fmt::format("{} is {:.0f} % of the yield of {}; leave normal_stress on",
                          mpa(c.values.peak_pressure()), 100 * c.values.peak_pressure() / yield, mpa(yield)));
}

/// Anisotropy must be the same on both sides of a symmetry plane: rolling along or across it.
void check_rolling(const CheckedCase& c) {
  const auto& r = c.values.material.r_values;
  const auto& blank = c.values.blank;
  if (!r || !c.sound({"sheet.material.r_values", "sheet.rolling", "blank.turn", "symmetry"})) return;
  const bool same_in_plane = r->r0 == r->r45 && r->r45 == r->r90;
  if (same_in_plane || !(blank.symmetric_x || blank.symmetric_y)) return;
  const double angle = blank.turn + blank.rolling_angle;
  constexpr double tolerance = 1e-3;  // of sin 2a, half a milliradian
  if (std::abs(std::sin(2 * angle)) <= tolerance) return;
  c.error("symmetry.planes",
          fmt::format("rolling at {} to x, with r-values that differ",
                      print_quantity(angle, Dimension::angle, "deg")),
          "rolling along x or y where half the sheet is computed",
          "compute the whole sheet, or turn the rolling direction");
}

}  // namespace halftool::io
