#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/case/checks/case_checks.hpp"
#include "io/case/quantity.hpp"

namespace halftool::io {
namespace {

std::string mpa(double pressure) {
  return print_quantity(pressure, Dimension::pressure, "MPa");
}

const std::string material_table = "sheet.material.";

/// Where a hardening law stands, and which of its keys sets the first yield.
struct LawKeys {
  std::string law;
  std::string first_yield;
};
LawKeys keys_of(const solver::Hardening& hardening) {
  if (std::holds_alternative<solver::SwiftHardening>(hardening)) return {"swift", ".strength"};
  if (std::holds_alternative<solver::VoceHardening>(hardening)) return {"voce", ".initial"};
  if (std::holds_alternative<solver::HollomonHardening>(hardening)) return {"hollomon", ".initial"};
  if (std::holds_alternative<solver::LudwikHardening>(hardening)) return {"ludwik", ".initial"};
  if (std::holds_alternative<solver::SwiftVoceHardening>(hardening)) return {"swift_voce", ".initial"};
  if (std::holds_alternative<solver::YoshidaUemoriHardening>(hardening)) return {"yoshida_uemori", ".yield"};
  return {"flow_curve", ""};
}

bool check_saturation(const CheckedCase& c, const std::string& law, const solver::VoceHardening& voce) {
  if (voce.saturation >= voce.initial) return true;
  c.error(law + ".saturation", mpa(voce.saturation),
          fmt::format("at least the initial stress, {}", mpa(voce.initial)),
          c.values.material.backstress.empty()
              ? "a sheet does not soften here; are initial and saturation exchanged?"
              : "a yield surface that shrinks is refused, also under backstress: are initial and saturation "
                "exchanged?");
  return false;
}

bool check_flow_curve(const CheckedCase& c, const std::string& key, const solver::TableHardening& table) {
  const auto& points = table.points;
  if (points.size() < 2) {
    c.error(key, points.empty() ? "no points" : "one point", "at least two points",
            "give the measured curve from first yield on, at plastic strain 0");
    return false;
  }
  if (points.front()[0] != 0) {
    c.error(key, fmt::format("a start at plastic strain {:.6g}", points.front()[0]),
            "a first point at plastic strain 0",
            "begin with the yield stress; plastic strain is total strain less stress over Young's modulus");
    return false;
  }
  for (std::size_t i = 1; i < points.size(); ++i) {
    const auto& [strain, stress] = points[i];
    const auto& [strain_before, stress_before] = points[i - 1];
    if (strain <= strain_before) {
      c.error(key, fmt::format("plastic strain {:.6g} after {:.6g}, point {}", strain, strain_before, i + 1),
              "plastic strains that rise", "put the points in order and each strain once");
      return false;
    }
    if (stress < stress_before) {
      c.error(key, fmt::format("{} after {}, point {}", mpa(stress), mpa(stress_before), i + 1),
              "stresses that do not fall",
              "a sheet does not soften here; smooth the curve, and end it where the specimen begins to neck");
      return false;
    }
  }
  constexpr double largest_strain = 2;  // no test of sheet comes near it
  if (points.back()[0] <= largest_strain) return true;
  c.error(key, fmt::format("plastic strain {:.6g}", points.back()[0]), "plastic strains up to 2",
          "write strains as numbers or with their sign, for example 0.05 or \"5 %\"");
  return false;
}

bool check_bound(const CheckedCase& c, const std::string& law, const solver::YoshidaUemoriHardening& two) {
  if (two.yield > 0 && two.bound > two.yield) return true;
  if (two.yield <= 0)
    c.error(law + ".yield", mpa(two.yield), "above 0", "give the stress at which plastic flow begins");
  else
    c.error(law + ".bound", mpa(two.bound), fmt::format("more than the yield, {}", mpa(two.yield)),
            "the yield surface moves inside the bounding surface; are yield and bound exchanged?");
  return false;
}

bool check_law(const CheckedCase& c, const std::string& law, const solver::Hardening& hardening) {
  if (const auto* voce = std::get_if<solver::VoceHardening>(&hardening))
    return check_saturation(c, law, *voce);
  if (const auto* blend = std::get_if<solver::SwiftVoceHardening>(&hardening))
    return check_saturation(c, law, blend->voce);
  if (const auto* two = std::get_if<solver::YoshidaUemoriHardening>(&hardening))
    return check_bound(c, law, *two);
  if (const auto* table = std::get_if<solver::TableHardening>(&hardening))
    return check_flow_curve(c, law, *table);
  const auto* hollomon = std::get_if<solver::HollomonHardening>(&hardening);
  if (hollomon == nullptr || hollomon->initial < hollomon->strength) return true;
  c.error(law + ".initial", mpa(hollomon->initial),
          fmt::format("less than the strength, {}", mpa(hollomon->strength)),
          "the curve reaches its strength at a strain of 1; are initial and strength exchanged?");
  return false;
}

void check_backstress(const CheckedCase& c) {
  const std::string key = material_table + "backstress";
  if (!c.sound({key})) return;
  const auto& terms = c.values.material.backstress;
  if (terms.size() > solver::kMostBackstressTerms)
    c.error(key, fmt::format("{} terms", terms.size()), "one to three terms",
            "fit the curves with fewer; three follow any published loop");
  for (std::size_t i = 0; i < terms.size(); ++i)
    if (terms[i].rate < 0)
      c.error(key, fmt::format("rate {:g}, term {}", terms[i].rate, i + 1), "rates of at least 0",
              "each pair is rate and modulus; a rate of 0 moves the yield surface in proportion to strain");
}

void check_falling_modulus(const CheckedCase& c) {
  const std::string table = material_table + "falling_modulus";
  const auto& material = c.values.material;
  if (!material.falling_modulus || !c.sound({table, material_table + "youngs_modulus"})) return;
  const auto gpa = [](double modulus) { return print_quantity(modulus, Dimension::pressure, "GPa"); };
  if (material.falling_modulus->saturated > material.youngs_modulus)
    c.error(table + ".saturated", gpa(material.falling_modulus->saturated),
            fmt::format("at most Young's modulus, {}", gpa(material.youngs_modulus)),
            "the modulus falls with plastic strain; are the two exchanged?");
}

/// Kinematic hardening cannot be asked of a sheet that has no constants of it.
void check_hardening_kind(const CheckedCase& c) {
  const std::string key = material_table + "hardening";
  if (!c.given(key) || !c.sound({key, material_table + "backstress", material_table + "yoshida_uemori"}))
    return;
  if (c.values.material.isotropic || solver::has_kinematic_constants(c.values.material)) return;
  c.error(key, "kinematic", "isotropic: the sheet has no constants of kinematic hardening",
          "give backstress or yoshida_uemori from a cyclic test, or leave the key out");
}

/// The rates of press and test make one factor, and one that far from 1 is no correction of a test any more.
void check_strain_rate(const CheckedCase& c) {
  const std::string table = material_table + "strain_rate";
  const auto& rate = c.values.material.strain_rate;
  if (!rate || !c.sound({table})) return;
  if (rate->press.has_value() != rate->test.has_value())
    return c.error(table + (rate->press ? ".press" : ".test"), rate->press ? "press alone" : "test alone",
                   "strain rates of press and test, or neither",
                   rate->press ? "add test, the strain rate of the test that gave the hardening law"
                               : "add press, the strain rate in the press");
  constexpr double least = 0.7, most = 1.5;  // our judgement
  const double factor = solver::rate_factor(c.values.material);
  if (factor >= least && factor <= most) return;
  c.error(table + ".exponent", fmt::format("a factor of {:.3g} on the flow stress", factor),
          fmt::format("a factor from {:g} to {:g}", least, most),
          "check the rates and the exponent; for rates that far apart give a flow curve of the press's rate");
}

/// Two surfaces measure the way between them with a square yield condition.
void check_two_surfaces(const CheckedCase& c) {
  const auto& material = c.values.material;
  const std::string key = material_table + "yoshida_uemori";
  if (!std::holds_alternative<solver::YoshidaUemoriHardening>(material.hardening) || !c.sound({key})) return;
  if (solver::is_quadratic(material.yield)) return;
  c.error(key + ".yield", "beside yield of Yld2000-2d", "yield of von Mises or Hill 1948 with this law",
          "leave yld2000 out, give r_values, or take backstress over another hardening law");
}

void check_strength(const CheckedCase& c, const std::string& key, double yield) {
  constexpr double largest_elastic_strain =
      0.02;  // common practice, no source: the strongest sheet stays below 0.01
  const double modulus = c.values.material.youngs_modulus;
  if (c.sound({"sheet.material.youngs_modulus"}) && yield > largest_elastic_strain * modulus)
    c.error(key, fmt::format("first yield at {}", mpa(yield)),
            fmt::format("at most {}, 2 % of Young's modulus", mpa(largest_elastic_strain * modulus)),
            "check the units of the hardening constants and of youngs_modulus");
}

/// By its law a cold-worked sheet necks as it yields; the limit from n and t or from the law is then next to
/// nothing.
void check_stretches(const CheckedCase& c, const std::string& key) {
  const FormingLimit judge = c.values.limits.forming_limit;
  if (!c.sound({"sheet.material", "limits"}) || judge == FormingLimit::none ||
      judge == FormingLimit::measured || c.values.limit_points)
    return;
  if (solver::uniform_strain(solver::tension_curve(c.values.material)) > 0) return;
  c.warning(
      key, "a hardening law that necks as it yields",
      "a law that hardens by more than its stress at first (uniform strain above 0)",
      "any stretching passes its forming limit: check the constants, or give measured points of the limit");
}

bool same_in_plane(const solver::RValues& r) {
  return r.r0 == r.r45 && r.r45 == r.r90;
}
bool same_in_plane(const solver::Yld2000& yield) {
  return std::all_of(yield.alpha.begin(), yield.alpha.end(), [&](double a) { return a == yield.alpha[0]; });
}
bool same_in_plane(const solver::VonMises& /*always*/) {
  return true;
}
bool same_in_plane(const solver::Yld2000Tests& /*hardly ever*/) {
  return false;
}

}  // namespace

void check_sheet(const CheckedCase& c) {
  const auto& material = c.values.material;
  check_backstress(c);
  check_hardening_kind(c);
  check_falling_modulus(c);
  check_strain_rate(c);
  check_two_surfaces(c);
  const LawKeys keys = keys_of(material.hardening);
  const std::string law = material_table + keys.law;
  if (!c.sound({law}) || !check_law(c, law, material.hardening)) return;
  const double yield = solver::flow_stress(material.hardening, 0).stress;
  check_strength(c, law + keys.first_yield, yield);
  check_stretches(c, law + keys.first_yield);
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
  const auto& yield = c.values.material.yield;
  const auto& blank = c.values.blank;
  if (!c.sound({"sheet.material.r_values", "sheet.material.yld2000", "sheet.material.yld2000_fit",
                "sheet.rolling", "blank.turn", "symmetry"}))
    return;
  if (std::visit([](const auto& y) { return same_in_plane(y); }, yield)) return;
  if (!(blank.symmetric_x || blank.symmetric_y)) return;
  const double angle = blank.turn + blank.rolling_angle;
  constexpr double tolerance = 1e-3;  // of sin 2a, half a milliradian
  if (std::abs(std::sin(2 * angle)) <= tolerance) return;
  const bool hill = std::holds_alternative<solver::RValues>(yield);
  c.error("symmetry.planes",
          fmt::format("rolling at {} to x, with {}", print_quantity(angle, Dimension::angle, "deg"),
                      hill ? "r-values that differ" : "yield that differs along and across it"),
          "rolling along x or y where half the sheet is computed",
          "compute the whole sheet, or turn the rolling direction");
}

}  // namespace halftool::io
