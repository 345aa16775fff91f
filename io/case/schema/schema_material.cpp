#include <algorithm>
#include <array>

#include "io/case/schema/schema.hpp"
#include "io/stock/stock.hpp"

namespace halftool::io {
namespace {

const std::string material = "sheet.material.";

/// Value of a yield condition of type Yield; nothing where the sheet has another one.
template <class Yield, class Get, class Set>
Access yield_values(Get get, Set set) {
  return {[get](const Case& c, int) -> std::optional<Value> {
            const auto* yield = std::get_if<Yield>(&c.material.yield);
            return yield == nullptr ? std::nullopt : std::optional<Value>(get(*yield));
          },
          [set](Case& c, int, const Value& value) { set(std::get<Yield>(c.material.yield), value); }};
}

/// A list of numbers that is a member array of a yield condition.
template <class Yield, size_t n>
Access yield_array(std::array<double, n> Yield::*member) {
  return yield_values<Yield>(
      [member](const Yield& yield) {
        return std::vector<double>((yield.*member).begin(), (yield.*member).end());
      },
      [member](Yield& yield, const Value& value) {
        const auto& numbers = std::get<std::vector<double>>(value);
        std::copy(numbers.begin(), numbers.end(), (yield.*member).begin());
      });
}

/// Not set as long as the yield condition is von Mises'.
Access r_values() {
  return {[](const Case& c, int) -> std::optional<Value> {
            if (std::holds_alternative<solver::VonMises>(c.material.yield)) return Value();
            const auto* r = std::get_if<solver::RValues>(&c.material.yield);
            if (r == nullptr) return std::nullopt;
            return std::vector<double>{r->r0, r->r45, r->r90};
          },
          [](Case& c, int, const Value& value) {
            const auto& r = std::get<std::vector<double>>(value);
            c.material.yield = solver::RValues{r[0], r[1], r[2]};
          }};
}

template <class Yield>
KeySpec yield_exponent_key(const std::string& table) {
  return {.path = material + table + ".exponent",
          .kind = ValueKind::number,
          .required = true,
          .hard = {2, 40},
          .usual = {6, 8},
          .usual_note = "6 is made for steel (body-centred), 8 for aluminium (face-centred cubic)",
          .about = "a, the exponent of the yield condition",
          .access = yield_values<Yield>(
              [](const Yield& yield) { return yield.exponent; },
              [](Yield& yield, const Value& value) { yield.exponent = std::get<double>(value); })};
}

void add_yield_keys(Schema& s) {
  s.choices.push_back({"sheet.material",
                       {"r_values", "yld2000", "yld2000_fit"},
                       "yield condition",
                       [](Case& c, size_t member) {
                         if (member == 1) c.material.yield = solver::Yld2000{};
                         if (member == 2) c.material.yield = solver::Yld2000Tests{};
                       },
                       true});
  s.keys.push_back({.path = "sheet.material.r_values",
                    .kind = ValueKind::ratios,
                    .hard = {0, 20, true},
                    .usual = {0.2, 5},
                    .usual_note = "sheets lie between 0.2 and 5 (from memory); check the value",
                    .n_items = 3,
                    .about =
                        "width over thickness strain in tension at 0, 45 and 90 degrees to rolling: yield of "
                        "Hill 1948, hardening then that along rolling; no yield condition set: von Mises",
                    .access = r_values()});
}

void add_yield_tables(Schema& s) {
  using solver::Yld2000;
  using solver::Yld2000Tests;
  s.keys.insert(
      s.keys.end(),
      {yield_exponent_key<Yld2000>("yld2000"),
       {.path = "sheet.material.yld2000.alpha",
        .kind = ValueKind::ratios,
        .required = true,
        .hard = {0, 5, true},
        .usual = {0.3, 2},
        .usual_note = "published coefficients lie between 0.4 and 1.5; check the value",
        .n_items = 8,
        .about = "alpha1 to alpha8 of Yld2000-2d (Barlat and others 2003), axis 1 along rolling",
        .access = yield_array(&Yld2000::alpha)},
       yield_exponent_key<Yld2000Tests>("yld2000_fit"),
       {.path = "sheet.material.yld2000_fit.yield_ratios",
        .kind = ValueKind::ratios,
        .required = true,
        .hard = {0, 5, true},
        .hard_note = "write ratios: each yield stress divided by that along rolling",
        .usual = {0.7, 1.4},
        .usual_note = "sheets lie between 0.7 and 1.4 (from memory); check the value",
        .n_items = 4,
        .about =
            "yield stress at 0, 45 and 90 degrees to rolling and in equibiaxial tension, over that of the "
            "hardening law at the same plastic work; coefficients of Yld2000-2d are fitted",
        .access = yield_array(&Yld2000Tests::yield_ratios)},
       {.path = "sheet.material.yld2000_fit.r_values",
        .kind = ValueKind::ratios,
        .required = true,
        .hard = {0, 20, true},
        .usual = {0.2, 5},
        .usual_note = "sheets lie between 0.2 and 5 (from memory); check the value",
        .n_items = 4,
        .about =
            "width over thickness strain in the same tests; equibiaxial: strain across over along rolling",
        .access = yield_array(&Yld2000Tests::r_values)}});
}

}  // namespace

void add_material_keys(Schema& s) {
  s.keys.insert(
      s.keys.end(),
      {{.path = "sheet.material.stock",
        .kind = ValueKind::word,
        .words = stock_names(),
        .about = "a sheet of the stock (halftool stock) that gives all constants which do not stand "
                 "here, and name, source and grade with them",
        .access = {[](const Case& c, int) -> std::optional<Value> {
                     return c.stock ? Value(c.stock->name) : Value();
                   },
                   [](Case&, int, const Value&) {}}},  // set by whoever takes its constants
       {.path = "sheet.material.name",
        .kind = ValueKind::text,
        .required = true,
        .about = "what the sheet is called, temper included",
        .access = direct([](auto& c) { return &c.material.name; })},
       {.path = "sheet.material.source",
        .kind = ValueKind::text,
        .required = true,
        .about = "where the constants come from; printed with the results",
        .access = direct([](auto& c) { return &c.material.source; })},
       {.path = "sheet.material.grade",
        .kind = ValueKind::word,
        .required = true,
        .words = grades(),
        .about = "how far the constants are to be trusted",
        .access = direct([](auto& c) { return &c.material.grade; })},
       {.path = "sheet.material.youngs_modulus",
        .kind = ValueKind::pressure,
        .required = true,
        .unit = "GPa",
        .hard = {1e4, 5e5},
        .usual = {4e4, 2.5e5},
        .usual_note = "sheet metals lie between 40 and 250 GPa",
        .about = "Young's modulus",
        .access = direct([](auto& c) { return &c.material.youngs_modulus; })},
       {.path = "sheet.material.poissons_ratio",
        .kind = ValueKind::ratio,
        .required = true,
        .hard = {0, 0.5, false, true},
        .usual = {0.25, 0.37},
        .usual_note = "sheet metals lie between 0.25 and 0.37",
        .about = "Poisson's ratio",
        .access = direct([](auto& c) { return &c.material.poissons_ratio; })}});
  add_yield_keys(s);
  add_hardening_choices(s);
  add_yield_tables(s);
  add_hardening_tables(s);
}

}  // namespace halftool::io
