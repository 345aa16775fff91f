#include "io/case/schema/schema.hpp"
#include "io/stock/stock.hpp"

namespace halftool::io {
namespace {

Access thickness() {
  return {[](const Case& c, int i) -> std::optional<Value> {
            const auto& t = c.other_sheets.at(static_cast<size_t>(i)).thickness;
            return t ? Value(*t) : Value();
          },
          [](Case& c, int i, const Value& value) {
            c.other_sheets.at(static_cast<size_t>(i)).thickness = std::get<double>(value);
          }};
}

/// A text that is not set where it is empty.
Access text(std::string OtherSheet::*member) {
  return {[member](const Case& c, int i) -> std::optional<Value> {
            const std::string& given = c.other_sheets.at(static_cast<size_t>(i)).*member;
            return given.empty() ? Value() : Value(given);
          },
          [member](Case& c, int i, const Value& value) {
            c.other_sheets.at(static_cast<size_t>(i)).*member = std::get<std::string>(value);
          }};
}

}  // namespace

void add_other_sheet_keys(Schema& s) {
  s.lists.push_back({"sheet.other", 0, 50, [](const Case& c) { return c.other_sheets.size(); },
                     [](Case& c, size_t n) { c.other_sheets.resize(n); }});
  s.keys.insert(
      s.keys.end(),
      {{.path = "sheet.other[].name",
        .kind = ValueKind::text,
        .about = "of another sheet over the same tool half, pressed by halftool sheets; not set: stock and "
                 "thickness",
        .access = text(&OtherSheet::name)},
       {.path = "sheet.other[].thickness",
        .kind = ValueKind::length,
        .unit = "mm",
        .hard = {0.1, 12},
        .usual = {0.3, 6},
        .usual_note = "the shell theory is made for sheet of 0.3 to 6 mm",
        .about = "its thickness; not set: that of the case",
        .access = thickness()},
       {.path = "sheet.other[].stock",
        .kind = ValueKind::word,
        .words = stock_names(),
        .about = "the sheet of the stock that takes the place of the material; forming limit, edge and bend "
                 "limits of the case belong to its own sheet and are left out; not set: the case's material",
        .access = text(&OtherSheet::stock)},
       {.path = "sheet.other[].hardening",
        .kind = ValueKind::word,
        .words = {"isotropic", "kinematic"},
        .about = "takes the place of sheet.material.hardening: the same sheet with and without kinematic "
                 "hardening, one tension curve",
        .access = text(&OtherSheet::hardening)}});
}

}  // namespace halftool::io
