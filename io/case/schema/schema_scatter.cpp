#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

Access range(std::optional<double> Scatter::*member) {
  return {[member](const Case& c, int) -> std::optional<Value> {
            return c.scatter.*member ? Value(*(c.scatter.*member)) : Value();
          },
          [member](Case& c, int, const Value& value) { c.scatter.*member = std::get<double>(value); }};
}

}  // namespace

void add_scatter_keys(Schema& s) {
  s.keys.insert(
      s.keys.end(),
      {{.path = "scatter.thickness",
        .kind = ValueKind::length,
        .unit = "mm",
        .hard = {0, 2, true},
        .usual = {0.005, 0.3},
        .about = "by how much the thickness scatters either way, for halftool scatter; not set: not at all",
        .access = range(&Scatter::thickness)},
       {.path = "scatter.strength",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 0.5, true},
        .usual = {0.01, 0.2},
        .about =
            "the same of the whole flow stress; also the band of halftool reckon, 8 % where it is not set",
        .access = range(&Scatter::strength)},
       {.path = "scatter.exponent",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 0.5, true},
        .usual = {0.01, 0.3},
        .about =
            "the same of the exponent of hardening (of Voce's law and a table: of what it is at a strain of "
            "0.1), the flow stress at a strain of 0.1 kept",
        .access = range(&Scatter::exponent)},
       {.path = "scatter.friction",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 0.9, true},
        .usual = {0.05, 0.6},
        .about = "the same of all coefficients of friction",
        .access = range(&Scatter::friction)},
       {.path = "scatter.design",
        .kind = ValueKind::word,
        .words = {"full", "half"},
        .about = "full: every combination of low and high and the middle; half: half of them, where three or "
                 "four vary",
        .access = as_word([](auto& c) { return &c.scatter.half; }, {"full", "half"})}});
}

}  // namespace halftool::io
