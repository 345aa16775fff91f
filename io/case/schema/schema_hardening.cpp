#include <utility>

#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

using solver::HollomonHardening;
using solver::LudwikHardening;
using solver::SwiftHardening;
using solver::SwiftVoceHardening;
using solver::TableHardening;
using solver::VoceHardening;
using solver::YoshidaUemoriHardening;

constexpr Range stress{10, 5000};
const std::string material = "sheet.material.";

/// The hardening law, if it is of type Law.
template <class Law>
auto* law_of(auto& c) {
  return std::get_if<Law>(&c.material.hardening);
}

/// A number of the hardening law of type Law.
template <class Law>
Access law_constant(double Law::*constant) {
  return direct([constant](auto& c) {
    auto* law = law_of<Law>(c);
    return law == nullptr ? nullptr : &(law->*constant);
  });
}
/// The same of one of the two laws of a blend.
template <class Part>
Access blend_constant(Part SwiftVoceHardening::*part, double Part::*constant) {
  return direct([part, constant](auto& c) {
    auto* law = law_of<SwiftVoceHardening>(c);
    return law == nullptr ? nullptr : &(law->*part.*constant);
  });
}

Access flow_curve() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* table = law_of<TableHardening>(c);
            return table == nullptr ? std::nullopt : std::optional<Value>(table->points);
          },
          [](Case& c, int, const Value& value) {
            law_of<TableHardening>(c)->points = std::get<std::vector<Pair>>(value);
          }};
}

// The constants of the laws; `of_swift` and `of_voce` find a law that stands alone or in a blend.

KeySpec strength_key(const std::string& table, const std::string& about, Access access) {
  return {.path = material + table + ".strength",
          .kind = ValueKind::pressure,
          .required = true,
          .unit = "MPa",
          .hard = stress,
          .usual = {80, 2500},
          .about = about,
          .access = std::move(access)};
}
KeySpec exponent_key(const std::string& table, Range usual, Access access) {
  return {.path = material + table + ".exponent",
          .kind = ValueKind::ratio,
          .required = true,
          .hard = {0, 1, true, true},
          .usual = usual,
          .about = "n, the hardening exponent",
          .access = std::move(access)};
}
KeySpec initial_key(const std::string& table, const std::string& about, Access access) {
  return {.path = material + table + ".initial",
          .kind = ValueKind::pressure,
          .required = true,
          .unit = "MPa",
          .hard = stress,
          .usual = {20, 2000},
          .about = about,
          .access = std::move(access)};
}

template <class Find>
void add_swift_keys(Schema& s, const std::string& table, Find of_swift) {
  s.keys.insert(s.keys.end(), {strength_key(table, "K of sigma = K (eps0 + eps_p)^n, true stress",
                                            of_swift(&SwiftHardening::strength)),
                               {.path = material + table + ".pre_strain",
                                .kind = ValueKind::ratio,
                                .required = true,
                                .hard = {0, 0.2, true},
                                .usual = {1e-5, 0.05},
                                .about = "eps0, sets the first yield K eps0^n",
                                .access = of_swift(&SwiftHardening::pre_strain)},
                               exponent_key(table, {0.03, 0.6}, of_swift(&SwiftHardening::exponent))});
}

template <class Find>
void add_voce_keys(Schema& s, const std::string& table, Find of_voce) {
  s.keys.insert(s.keys.end(),
                {initial_key(table, "s0 of sigma = s_inf - (s_inf - s0) exp(-c eps_p), the first yield",
                             of_voce(&VoceHardening::initial)),
                 {.path = material + table + ".saturation",
                  .kind = ValueKind::pressure,
                  .required = true,
                  .unit = "MPa",
                  .hard = stress,
                  .usual = {50, 2500},
                  .about = "s_inf, the stress that hardening tends to",
                  .access = of_voce(&VoceHardening::saturation)},
                 {.path = material + table + ".rate",
                  .kind = ValueKind::number,
                  .required = true,
                  .hard = {0, 1000},
                  .usual = {1, 100},
                  .about = "c, how fast hardening saturates with plastic strain",
                  .access = of_voce(&VoceHardening::rate)}});
}

void add_hollomon_keys(Schema& s) {
  s.keys.insert(s.keys.end(),
                {strength_key("hollomon", "K of sigma = K eps^n, true stress over true plastic strain",
                              law_constant(&HollomonHardening::strength)),
                 exponent_key("hollomon", {0.03, 0.6}, law_constant(&HollomonHardening::exponent)),
                 initial_key("hollomon", "first yield; the curve is followed from this stress on",
                             law_constant(&HollomonHardening::initial))});
}

void add_ludwik_keys(Schema& s) {
  s.keys.insert(s.keys.end(), {initial_key("ludwik", "s0 of sigma = s0 + K eps_p^n, the first yield",
                                           law_constant(&LudwikHardening::initial)),
                               strength_key("ludwik", "K, the factor of what hardening adds",
                                            law_constant(&LudwikHardening::strength)),
                               exponent_key("ludwik", {0.1, 0.9}, law_constant(&LudwikHardening::exponent))});
}

void add_blend_keys(Schema& s) {
  s.keys.push_back({.path = "sheet.material.swift_voce.swift_share",
                    .kind = ValueKind::ratio,
                    .required = true,
                    .hard = {0, 1},
                    .about = "w of sigma = w Swift + (1 - w) Voce",
                    .access = law_constant(&SwiftVoceHardening::swift_share)});
  add_swift_keys(s, "swift_voce",
                 [](auto constant) { return blend_constant(&SwiftVoceHardening::swift, constant); });
  add_voce_keys(s, "swift_voce",
                [](auto constant) { return blend_constant(&SwiftVoceHardening::voce, constant); });
}

KeySpec two_surface_key(const std::string& name, double YoshidaUemoriHardening::*constant, Range usual,
                        const std::string& about) {
  return {.path = material + "yoshida_uemori." + name,
          .kind = ValueKind::pressure,
          .required = true,
          .unit = "MPa",
          .hard = {0, 5000},
          .usual = usual,
          .about = about,
          .access = law_constant(constant)};
}
KeySpec two_surface_number(const std::string& name, double YoshidaUemoriHardening::*constant, Range hard,
                           Range usual, const std::string& about) {
  return {.path = material + "yoshida_uemori." + name,
          .kind = ValueKind::number,
          .required = true,
          .hard = hard,
          .usual = usual,
          .about = about,
          .access = law_constant(constant)};
}

void add_two_surface_keys(Schema& s) {
  using Law = YoshidaUemoriHardening;
  s.keys.insert(s.keys.end(),
                {two_surface_key("yield", &Law::yield, {50, 2000},
                                 "Y, size of the yield surface, first yield (Yoshida and Uemori 2002)"),
                 two_surface_key("bound", &Law::bound, {80, 2500},
                                 "B, first size of the bounding surface, above yield"),
                 two_surface_key("bound_shift", &Law::bound_shift, {0, 500},
                                 "b, how far the centre of the bounding surface moves in the end"),
                 two_surface_key("bound_gain", &Law::bound_gain, {0, 1000},
                                 "R_sat, how much the bounding surface grows in the end"),
                 two_surface_number("bound_rate", &Law::bound_rate, {0, 1000}, {1, 100},
                                    "m, how fast the bounding surface moves and grows with plastic strain"),
                 two_surface_number("approach", &Law::approach, {0, 10000, true}, {50, 2000},
                                    "C, how fast the yield surface moves towards the bounding surface"),
                 two_surface_number("stagnation", &Law::stagnation, {0, 1}, {},
                                    "h, how long hardening stagnates after a reversal: 0 not at all")});
}

void add_law_keys(Schema& s) {
  s.choices.push_back({"sheet.material",
                       {"swift", "voce", "hollomon", "ludwik", "swift_voce", "flow_curve", "yoshida_uemori"},
                       "hardening law",
                       [](Case& c, size_t member) {
                         const std::vector<solver::Hardening> laws = {
                             SwiftHardening{},        VoceHardening{},      HollomonHardening{},
                             LudwikHardening{},       SwiftVoceHardening{}, TableHardening{},
                             YoshidaUemoriHardening{}};
                         c.material.hardening = laws.at(member);
                       }});
  s.keys.push_back({.path = "sheet.material.flow_curve",
                    .kind = ValueKind::flow_curve,
                    .required = true,
                    .unit = "MPa",
                    .hard = stress,
                    .usual = {20, 2500},
                    .about =
                        "plastic strain from 0 up and true stress, straight between the points; beyond the "
                        "last a power law with its value and slope",
                    .access = flow_curve()});
}

/// No place beside a law that has a backstress of its own.
Access backstress() {
  return {[](const Case& c, int) -> std::optional<Value> {
            if (law_of<YoshidaUemoriHardening>(c) != nullptr) return std::nullopt;
            if (c.material.backstress.empty()) return Value();
            std::vector<Pair> pairs;
            for (const auto& term : c.material.backstress) pairs.push_back({term.rate, term.modulus});
            return pairs;
          },
          [](Case& c, int, const Value& value) {
            for (const Pair& pair : std::get<std::vector<Pair>>(value))
              c.material.backstress.push_back({.modulus = pair[1], .rate = pair[0]});
          }};
}

/// Said only where there is a choice, or where it was made.
Access hardening_kind() {
  return {[](const Case& c, int) -> std::optional<Value> {
            if (c.material.isotropic) return std::string("isotropic");
            return solver::has_kinematic_constants(c.material) ? Value(std::string("kinematic")) : Value();
          },
          [](Case& c, int, const Value& value) {
            c.material.isotropic = std::get<std::string>(value) == "isotropic";
          }};
}

void add_kinematic_keys(Schema& s) {
  s.keys.push_back(
      {.path = "sheet.material.backstress",
       .kind = ValueKind::backstress,
       .unit = "MPa",
       .hard = {0, 1e6},
       .usual = {50, 2e5},
       .about = "one to three pairs of rate gamma and modulus C: the yield surface, of the size "
                "that the hardening law gives, moves by C/gamma (1 - exp(-gamma eps_p)) "
                "(Armstrong and Frederick, Chaboche); none: isotropic hardening",
       .belongs_to = {"sheet.material.swift", "sheet.material.voce", "sheet.material.hollomon",
                      "sheet.material.ludwik", "sheet.material.swift_voce", "sheet.material.flow_curve"},
       .access = backstress()});
  s.keys.push_back({.path = "sheet.material.hardening",
                    .kind = ValueKind::word,
                    .words = {"isotropic", "kinematic"},
                    .about = "isotropic: backstress or yoshida_uemori give their curve in tension only, and "
                             "the yield surface grows and does not move; not set: kinematic where there are "
                             "such constants",
                    .access = hardening_kind()});
  s.choices.push_back({"sheet.material",
                       {"falling_modulus"},
                       "Young's modulus that falls with plastic strain",
                       [](Case& c, size_t) { c.material.falling_modulus.emplace(); },
                       true});
  s.choices.push_back({"sheet.material",
                       {"strain_rate"},
                       "rate sensitivity, and strain rate of the press",
                       [](Case& c, size_t) { c.material.strain_rate.emplace(); },
                       true});
}

KeySpec rate_key(const std::string& name, std::optional<double> solver::StrainRate::*member, Range usual,
                 const std::string& about) {
  return {.path = material + "strain_rate." + name,
          .kind = ValueKind::strain_rate,
          .unit = "/s",
          .hard = {1e-6, 1e4},
          .usual = usual,
          .about = about,
          .access = {[member](const Case& c, int) -> std::optional<Value> {
                       if (!c.material.strain_rate) return std::nullopt;
                       const auto& rate = (*c.material.strain_rate).*member;
                       return rate ? Value(*rate) : Value();
                     },
                     [member](Case& c, int, const Value& value) {
                       (*c.material.strain_rate).*member = std::get<double>(value);
                     }}};
}

void add_strain_rate_keys(Schema& s) {
  using solver::StrainRate;
  s.keys.insert(
      s.keys.end(),
      {rate_key("press", &StrainRate::press, {1e-3, 10},
                "strain rate in the press: the flow stress is multiplied by (press/test)^m, one constant "
                "factor on the whole law, not computed from the run; none: no factor"),
       rate_key("test", &StrainRate::test, {1e-4, 1},
                "strain rate of the test that gave the hardening law, beside press"),
       {.path = material + "strain_rate.exponent",
        .kind = ValueKind::number,
        .required = true,
        .hard = {-0.1, 0.5},
        .usual = {-0.01, 0.05},
        .about =
            "m, the rate sensitivity: steel some 0.01 to 0.02, aluminium near 0 (from memory); a computed "
            "forming limit takes it between groove and sheet, with or without press and test",
        .access = direct(
            [](auto& c) { return c.material.strain_rate ? &c.material.strain_rate->exponent : nullptr; })}});
}

void add_falling_modulus_keys(Schema& s) {
  s.keys.push_back({.path = "sheet.material.falling_modulus.saturated",
                    .kind = ValueKind::pressure,
                    .required = true,
                    .unit = "GPa",
                    .hard = {1e4, 5e5},
                    .usual = {4e4, 2.5e5},
                    .about = "Ea of E = E0 - (E0 - Ea) (1 - exp(-xi eps_p)), in loading and unloading",
                    .access = direct([](auto& c) {
                      return c.material.falling_modulus ? &c.material.falling_modulus->saturated : nullptr;
                    })});
  s.keys.push_back({.path = "sheet.material.falling_modulus.rate",
                    .kind = ValueKind::number,
                    .required = true,
                    .hard = {0, 1000},
                    .usual = {5, 200},
                    .about = "xi, how fast the modulus falls",
                    .access = direct([](auto& c) {
                      return c.material.falling_modulus ? &c.material.falling_modulus->rate : nullptr;
                    })});
}

}  // namespace

void add_hardening_choices(Schema& s) {
  add_law_keys(s);
  add_kinematic_keys(s);
}

void add_hardening_tables(Schema& s) {
  const auto alone = [](auto constant) { return law_constant(constant); };
  add_swift_keys(s, "swift", alone);
  add_voce_keys(s, "voce", alone);
  add_hollomon_keys(s);
  add_ludwik_keys(s);
  add_blend_keys(s);
  add_two_surface_keys(s);
  add_falling_modulus_keys(s);
  add_strain_rate_keys(s);
}

}  // namespace halftool::io
