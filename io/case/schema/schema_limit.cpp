#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

const std::string table = "sheet.forming_limit";
const std::vector<std::string> owners = {table + ".points", table + ".file"};

/// A member of the measured limit; no place where the case has none.
template <class T>
Access of_limit(T LimitPoints::*member) {
  return direct([member](auto& c) { return c.limit_points ? &((*c.limit_points).*member) : nullptr; });
}

Access points() {
  return {
      [](const Case& c, int) -> std::optional<Value> {
        if (!c.limit_points || c.limit_points->from_file) return std::nullopt;
        return c.limit_points->points;
      },
      [](Case& c, int, const Value& value) { c.limit_points->points = std::get<std::vector<Pair>>(value); }};
}

Access file() {
  return direct(
      [](auto& c) { return c.limit_points && c.limit_points->from_file ? &c.limit_points->file : nullptr; });
}

Access engineering() {
  return {[](const Case& c, int) -> std::optional<Value> {
            if (!c.limit_points) return std::nullopt;
            return std::string(c.limit_points->engineering ? "engineering" : "true");
          },
          [](Case& c, int, const Value& value) {
            c.limit_points->engineering = std::get<std::string>(value) == "engineering";
          }};
}

Access thickness() {
  return {[](const Case& c, int) -> std::optional<Value> {
            if (!c.limit_points) return std::nullopt;
            return c.limit_points->thickness ? Value(*c.limit_points->thickness) : Value();
          },
          [](Case& c, int, const Value& value) { c.limit_points->thickness = std::get<double>(value); }};
}

}  // namespace

void add_limit_keys(Schema& s) {
  s.choices.push_back({table,
                       {"points", "file", "computed"},
                       "forming limit of the sheet",
                       [](Case& c, size_t member) {
                         if (member == 2) {
                           c.computed_limit = solver::ComputedLimit{};
                           return;
                         }
                         c.limit_points = LimitPoints{};
                         c.limit_points->from_file = member == 1;
                       },
                       true});
  s.keys.insert(
      s.keys.end(),
      {{.path = table + ".points",
        .kind = ValueKind::strains,
        .required = true,
        .hard = {-0.9, 3},
        .about = "[minor, major] strain of the measured curve (ISO 12004-2), minor rising; straight in true "
                 "strain "
                 "between the points, not judged beyond them",
        .access = points()},
       {.path = table + ".file",
        .kind = ValueKind::path,
        .required = true,
        .about =
            "the same as a table (CSV) with columns of minor and major strain, the unit (% or -) in brackets",
        .access = file()},
       {.path = table + ".strain",
        .kind = ValueKind::word,
        .required = true,
        .words = {"true", "engineering"},
        .about = "what the strains of the points are",
        .belongs_to = owners,
        .access = engineering()},
       {.path = table + ".source",
        .kind = ValueKind::text,
        .required = true,
        .about = "which test, lot and laboratory; printed with the results",
        .belongs_to = owners,
        .access = of_limit(&LimitPoints::source)},
       {.path = table + ".grade",
        .kind = ValueKind::word,
        .words = grades(),
        .about = "how far the points are to be trusted",
        .belongs_to = owners,
        .access = of_limit(&LimitPoints::grade)},
       {.path = table + ".thickness",
        .kind = ValueKind::length,
        .unit = "mm",
        .hard = {0.1, 12},
        .about = "of the sheet that was tested; the limit rises with it",
        .belongs_to = owners,
        .access = thickness()},
       {.path = table + ".computed.imperfection",
        .kind = ValueKind::ratio,
        .hard = {1e-4, 0.1},
        .usual = {5e-4, 0.02},
        .usual_note = "grooves of 0.1 to 1 % of the thickness are usual; fit it to one measured point",
        .about =
            "thickness that a groove lacks, over the sheet's: what necking starts from in a curve that is "
            "computed (Marciniak and Kuczynski 1967) from yield condition and hardening",
        .access =
            direct([](auto& c) { return c.computed_limit ? &c.computed_limit->imperfection : nullptr; })},
       {.path = table + ".computed.normal_pressure",
        .kind = ValueKind::pressure,
        .unit = "MPa",
        .hard = {0, 1000},
        .about = "on both faces while the sheet stretches, raising the computed curve as between flat faces; "
                 "where "
                 "the fluid follows a neck nothing is gained, and both curves are shown; 0: not taken into "
                 "account",
        .access = direct(
            [](auto& c) { return c.computed_limit ? &c.computed_limit->normal_pressure : nullptr; })}});
}

}  // namespace halftool::io
