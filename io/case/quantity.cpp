#include "io/case/quantity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "io/case/nearest_word.hpp"

namespace halftool::io {
namespace {

struct Unit {
  std::string_view name;
  Dimension dimension;
  double factor;       ///< internal units in one of these
  bool likely = true;  ///< worth offering where a value is far off
};

// The inch is 25.4 mm and the pound-force 4.4482216152605 N exactly (NIST Special Publication 811, appendix
// B).
constexpr double inch = 25.4;
constexpr double pound_force = 4.4482216152605;
constexpr std::array units{
    Unit{"mm", Dimension::length, 1},
    Unit{"cm", Dimension::length, 10, false},
    Unit{"m", Dimension::length, 1000, false},
    Unit{"in", Dimension::length, inch},
    Unit{"thou", Dimension::length, inch / 1000, false},
    Unit{"MPa", Dimension::pressure, 1},
    Unit{"psi", Dimension::pressure, pound_force / (inch * inch)},
    Unit{"ksi", Dimension::pressure, 1000 * pound_force / (inch * inch)},
    Unit{"kPa", Dimension::pressure, 1e-3, false},
    Unit{"bar", Dimension::pressure, 0.1},
    Unit{"GPa", Dimension::pressure, 1000},
    Unit{"rad", Dimension::angle, 1},
    Unit{"deg", Dimension::angle, std::numbers::pi / 180},
    Unit{"s", Dimension::time, 1},
    Unit{"min", Dimension::time, 60},
    Unit{"N", Dimension::force, 1},
    Unit{"kN", Dimension::force, 1000},
    Unit{"lbf", Dimension::force, pound_force},
    Unit{"%", Dimension::ratio, 0.01},
    Unit{"MPa/mm", Dimension::pressure_per_length, 1},
    Unit{"/s", Dimension::strain_rate, 1},
};

/// Units that are in use in shops and that we refuse, with the reason.
struct Refused {
  std::string_view name;
  std::string_view reason;
  std::string_view instead;  ///< what to write; empty: any unit of the dimension
};
constexpr std::string_view two_mils = "mil may mean a thousandth of an inch or a millimetre";
constexpr std::string_view many_gauges = "gauge numbers differ from metal to metal";
constexpr std::string_view three_tons = "there are three kinds of ton";
constexpr std::string_view other_spelling = "another spelling is used here";
constexpr std::array refused{
    Refused{"mil", two_mils, "thou or mm"},
    Refused{"mils", two_mils, "thou or mm"},
    Refused{"gauge", many_gauges, "the thickness in mm or in"},
    Refused{"gage", many_gauges, "the thickness in mm or in"},
    Refused{"ga", many_gauges, "the thickness in mm or in"},
    Refused{"ton", three_tons, ""},
    Refused{"tons", three_tons, ""},
    Refused{"t", three_tons, ""},
    Refused{"kg/cm2", "a kilogram is no force", "bar (1 kg/cm2 is 0.980665 bar)"},
    Refused{"kgf/cm2", other_spelling, "bar (1 kgf/cm2 is 0.980665 bar)"},
    Refused{"inch", other_spelling, "in"},
    Refused{"inches", other_spelling, "in"},
    Refused{"\"", other_spelling, "in"},
    Refused{"N/mm2", other_spelling, "MPa, which is the same"},
    Refused{"degrees", other_spelling, "deg"},
    Refused{"°", other_spelling, "deg"},
    Refused{"percent", other_spelling, "%"},
    Refused{"1/s", other_spelling, "/s"},
    Refused{"s-1", other_spelling, "/s"},
    Refused{"s^-1", other_spelling, "/s"},
    Refused{"per second", other_spelling, "/s"},
};

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

const Unit* find_unit(std::string_view name) {
  const auto* found = std::find_if(units.begin(), units.end(), [&](const Unit& u) { return u.name == name; });
  return found == units.end() ? nullptr : found;
}

std::string allowed_text(Dimension dimension) {
  const auto names = units_of(dimension);
  if (dimension == Dimension::ratio) return "a ratio: a bare number, or a number and %";
  std::string list = names.front();
  for (size_t i = 1; i < names.size(); ++i) list += (i + 1 == names.size() ? " or " : ", ") + names[i];
  return fmt::format("{}: a number and {}", dimension_name(dimension), list);
}

std::string example(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return "\"1.6 mm\" or \"0.063 in\"";
    case Dimension::pressure:
      return "\"14500 psi\" or \"100 MPa\"";
    case Dimension::angle:
      return "\"15 deg\"";
    case Dimension::time:
      return "\"90 s\"";
    case Dimension::force:
      return "\"120 kN\"";
    case Dimension::ratio:
      return "0.1 or \"10 %\"";
    case Dimension::pressure_per_length:
      return "\"0.001 MPa/mm\"";
    case Dimension::strain_rate:
      return "\"0.1 /s\"";
  }
  return {};
}

ParsedQuantity fault(Dimension dimension, std::string mend) {
  return {std::nullopt, {allowed_text(dimension), std::move(mend)}};
}

/// A comma is a decimal sign in half of the world and a thousands separator in the other half: never guessed.
ParsedQuantity comma_fault(std::string_view text, size_t comma, Dimension dimension) {
  std::string point(text);
  point[comma] = '.';
  size_t digits = comma + 1;
  while (digits < text.size() && std::isdigit(static_cast<unsigned char>(text[digits])) != 0) ++digits;
  if (digits - comma - 1 != 3) return fault(dimension, fmt::format("use a decimal point: \"{}\"", point));
  std::string joined(text);
  joined.erase(std::remove(joined.begin(), joined.end(), ','), joined.end());
  return fault(dimension,
               fmt::format("write \"{}\" (no thousands separator), or \"{}\" if a decimal point is meant",
                           joined, point));
}

ParsedQuantity unit_fault(std::string_view number, std::string_view unit, Dimension dimension) {
  for (const auto& [name, reason, instead] : refused)
    if (unit == name)
      return fault(dimension, instead.empty()
                                  ? fmt::format("{}; write for example {}", reason, example(dimension))
                                  : fmt::format("{}; write {}", reason, instead));
  if (const auto* other = find_unit(unit))
    return fault(dimension, fmt::format("{} is the unit of {}; {} is needed here, for example {}", unit,
                                        dimension_name(other->dimension), dimension_name(dimension),
                                        example(dimension)));
  const auto nearest = nearest_word(unit, units_of(dimension));
  if (nearest.empty())
    return fault(dimension,
                 fmt::format("unknown unit \"{}\"; write for example {}", unit, example(dimension)));
  return fault(dimension, fmt::format("unknown unit \"{}\"; did you mean \"{} {}\"?", unit, number, nearest));
}

/// Without an exponent where people would write none.
std::string plain_number(double value) {
  const double size = std::abs(value);
  std::array<char, 40> buffer{};
  const bool fixed = size == 0 || (size >= 1e-4 && size < 1e9);
  const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                    fixed ? std::chars_format::fixed : std::chars_format::general);
  return {buffer.data(), result.ptr};
}

/// The value with as few digits as the unit needs; empty if no text reads back as the same value.
std::string exact_text(double value, const Unit& unit) {
  const double amount = value / unit.factor;
  for (int digits = 1; digits <= 17; ++digits) {
    const double rounded = std::stod(fmt::format("{:.{}g}", amount, digits));
    if (std::abs(rounded * unit.factor - value) <= 4e-16 * std::abs(value))
      return fmt::format("{} {}", plain_number(rounded), unit.name);
  }
  return {};
}

}  // namespace

std::string_view dimension_name(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return "a length";
    case Dimension::pressure:
      return "a pressure";
    case Dimension::angle:
      return "an angle";
    case Dimension::time:
      return "a time";
    case Dimension::force:
      return "a force";
    case Dimension::ratio:
      return "a ratio";
    case Dimension::pressure_per_length:
      return "a pressure per length";
    case Dimension::strain_rate:
      return "a strain rate";
  }
  return {};
}

std::vector<std::string> units_of(Dimension dimension) {
  std::vector<std::string> names;
  for (const auto& unit : units)
    if (unit.dimension == dimension) names.emplace_back(unit.name);
  return names;
}

QuantityFault missing_unit(std::string_view number, Dimension dimension) {
  const auto name = dimension_name(dimension);
  return {allowed_text(dimension),
          fmt::format("{} needs a unit and quotation marks, for example {}{}", name, example(dimension),
                      number.empty() ? "" : fmt::format("; {} of what?", number))};
}

ParsedQuantity parse_quantity(std::string_view text, Dimension dimension) {
  const auto body = trimmed(text);
  const auto digits = !body.empty() && body.front() == '+' ? body.substr(1) : body;
  const auto first = digits.find_first_of("0123456789");
  double number = 0;
  const auto [end, code] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
  if (code != std::errc{} || first > 2 || !std::isfinite(number) || body.starts_with("+-"))
    return fault(dimension, fmt::format("start with a number, for example {}", example(dimension)));
  const auto after = static_cast<size_t>(end - digits.data());
  if (after < digits.size() && digits[after] == ',') return comma_fault(digits, after, dimension);
  const auto written = digits.substr(0, after);
  const auto unit = trimmed(digits.substr(after));
  if (unit.empty()) {
    if (dimension == Dimension::ratio) return {number, {}};
    return {std::nullopt, missing_unit(written, dimension)};
  }
  const auto* known = find_unit(unit);
  if (known == nullptr || known->dimension != dimension) return unit_fault(written, unit, dimension);
  return {number * known->factor, {}};
}

std::string_view unit_of(std::string_view text) {
  auto body = trimmed(text);
  if (!body.empty() && body.front() == '+') body.remove_prefix(1);
  double number = 0;
  const auto [end, code] = std::from_chars(body.data(), body.data() + body.size(), number);
  if (code != std::errc{}) return {};
  return trimmed(body.substr(static_cast<size_t>(end - body.data())));
}

std::vector<OtherReading> other_readings(std::string_view text, Dimension dimension) {
  const auto body = trimmed(text);
  double number = 0;
  const auto [end, code] = std::from_chars(body.data(), body.data() + body.size(), number);
  if (code != std::errc{}) return {};
  const auto after = static_cast<size_t>(end - body.data());
  const auto written = trimmed(body.substr(after));
  std::vector<OtherReading> readings;
  for (const auto& unit : units)
    if (unit.dimension == dimension && unit.likely && unit.name != written)
      readings.push_back({fmt::format("{} {}", body.substr(0, after), unit.name), number * unit.factor});
  return readings;
}

std::string print_number(double value) {
  return plain_number(value);
}

std::string print_quantity(double value, Dimension dimension, std::string_view unit) {
  if (dimension == Dimension::ratio && unit.empty()) return fmt::format("{:.6g}", value);
  const auto* known = find_unit(unit);
  if (known == nullptr || known->dimension != dimension)
    throw std::invalid_argument(fmt::format("{} is not the unit of {}", unit, dimension_name(dimension)));
  return fmt::format("{:.6g} {}", value / known->factor, unit);
}

std::string print_exactly(double value, Dimension dimension, std::string_view preferred_unit) {
  if (dimension == Dimension::ratio && preferred_unit.empty()) return print_number(value);
  const auto* preferred = find_unit(preferred_unit);
  if (preferred == nullptr || preferred->dimension != dimension)
    throw std::invalid_argument(
        fmt::format("{} is not the unit of {}", preferred_unit, dimension_name(dimension)));
  std::string best = exact_text(value, *preferred);
  constexpr size_t readable = 7;  // digits, sign and point that are worth another unit
  const size_t tail = preferred_unit.size() + 1;
  if (!best.empty() && best.size() <= readable + tail) return best;
  for (const auto& unit : units) {
    if (unit.dimension != dimension) continue;
    const auto text = exact_text(value, unit);
    if (!text.empty() && (best.empty() || text.size() + 4 < best.size())) best = text;
  }
  return best.empty() ? fmt::format("{:.17g} {}", value / preferred->factor, preferred_unit) : best;
}

}  // namespace halftool::io
