#include "io/drawing/length_units.hpp"

#include <fmt/format.h>

#include <map>

#include "io/drawing/drawing_error.hpp"

namespace halftool::io {
namespace {

/// Codes of $INSUNITS that a drawing of a blank may carry.
const std::map<int, LengthUnit>& coded_units() {
  static const std::map<int, LengthUnit> units = {
      {1, {"in", 25.4}}, {2, {"ft", 304.8}},    {4, {"mm", 1}},      {5, {"cm", 10}},
      {6, {"m", 1000}},  {9, {"thou", 0.0254}}, {10, {"yd", 914.4}}, {14, {"dm", 100}},
  };
  return units;
}

}  // namespace

std::optional<LengthUnit> length_unit(const std::string& name) {
  for (const auto& [code, unit] : coded_units())
    if (unit.name == name) return unit;
  return std::nullopt;
}

LengthUnit drawing_unit(const std::optional<int>& code, const std::optional<std::string>& given) {
  const bool is_said = code.value_or(0) != 0;
  if (!is_said && !given)
    throw DrawingError({"length_unit", "no length unit in the drawing",
                        "a drawing with its unit ($INSUNITS), or length_unit",
                        "write length_unit = \"mm\", or what the drawing is drawn in"});
  if (!is_said) return length_unit(*given).value();
  const auto said = coded_units().find(*code);
  if (said == coded_units().end())
    throw DrawingError({"drawing", fmt::format("the length unit with the code {} of $INSUNITS", *code),
                        "mm, cm, dm, m, in, ft, yd or thou", "set the unit of the drawing and save it anew"});
  if (given && *given != said->second.name)
    throw DrawingError({"length_unit", fmt::format("\"{}\" for a drawing in {}", *given, said->second.name),
                        "the unit that the drawing itself gives",
                        "leave length_unit out; if the drawing is wrong, correct its $INSUNITS"});
  return said->second;
}

}  // namespace halftool::io
