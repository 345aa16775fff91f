#include "io/case/schema/value.hpp"

#include <fmt/format.h>

#include <cmath>

#include "io/case/nearest_word.hpp"

namespace halftool::io {
namespace {

/// A place in the file that is being read: the value, its key and the table row that rules it.
struct Place {
  const Node& node;
  const KeySpec& spec;
  std::string key;
  Findings& findings;

  void error(std::string allowed, std::string mend) const {
    findings.error(node.line, key, print_node(node), std::move(allowed), std::move(mend));
  }
  [[nodiscard]] Place item(size_t i) const {
    return {node.items[i], spec, fmt::format("{}[{}]", key, i + 1), findings};
  }
};

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += toml_text(words[i]);
  }
  return text;
}

std::string number_text(double value, const KeySpec& spec) {
  const auto dimension = dimension_of(spec.kind);
  return dimension ? print_quantity(value, *dimension, spec.unit) : fmt::format("{:.6g}", value);
}

/// Other units under which the number would be a usual one; empty if there are none. A ratio was hardly meant
/// in percent where it is that small.
std::string unit_slip(const Place& place, double value, std::optional<Dimension> dimension) {
  constexpr double least_percent = 2;  // our judgement
  if (!dimension || (dimension == Dimension::ratio && std::abs(value) < least_percent)) return {};
  const auto text = place.node.kind == Node::Kind::text ? place.node.text : print_node(place.node);
  std::string offers;
  for (const auto& [reading, meant] : other_readings(text, *dimension)) {
    if (!place.spec.hard.holds(meant) || !place.spec.usual.holds(meant)) continue;
    offers += fmt::format("{}{}", offers.empty() ? "did you mean " : " or ", toml_text(reading));
    const auto here = number_text(meant, place.spec);
    if (dimension != Dimension::ratio && here != reading) offers += fmt::format(" ({})", here);
  }
  return offers.empty() ? offers : offers + "?";
}

/// Checks both ranges. False: outside the hard one.
bool in_range(const Place& place, double value, std::optional<Dimension> dimension) {
  const auto& spec = place.spec;
  if (!spec.hard.holds(value)) {
    auto mend = spec.hard_note.empty() ? unit_slip(place, value, dimension) : spec.hard_note;
    if (mend.empty()) mend = "choose a value within this range";
    place.error(range_text(spec.hard, spec), std::move(mend));
    return false;
  }
  if (!spec.usual.holds(value)) {
    auto mend = spec.usual_note;
    const auto slip = unit_slip(place, value, dimension);
    if (!slip.empty()) mend += (mend.empty() ? "" : "; ") + slip;
    if (mend.empty()) mend = "check that it is meant";
    place.findings.warning(place.node.line, place.key, print_node(place.node),
                           "usually " + range_text(spec.usual, spec), std::move(mend));
  }
  return true;
}

bool is_number(const Node& node) {
  return node.kind == Node::Kind::integer || node.kind == Node::Kind::real;
}
double number_of(const Node& node) {
  return node.kind == Node::Kind::integer ? static_cast<double>(node.integer) : node.real;
}

/// A text with a unit; for ratios also a bare number. No range check.
std::optional<double> read_amount(const Place& place, Dimension dimension) {
  const Node& node = place.node;
  if (node.kind == Node::Kind::text) {
    const auto parsed = parse_quantity(node.text, dimension);
    if (!parsed.value) place.error(parsed.fault.allowed, parsed.fault.mend);
    return parsed.value;
  }
  if (is_number(node) && dimension == Dimension::ratio && std::isfinite(number_of(node)))
    return number_of(node);
  const auto fault = missing_unit("", dimension);
  if (dimension == Dimension::ratio)
    place.error(fault.allowed, "write a number, for example 0.1 or \"10 %\"");
  else
    place.error(fault.allowed, fault.mend);
  return std::nullopt;
}

std::optional<double> read_quantity(const Place& place, Dimension dimension) {
  const auto amount = read_amount(place, dimension);
  return amount && in_range(place, *amount, dimension) ? amount : std::nullopt;
}

std::optional<Value> read_number(const Place& place) {
  if (!is_number(place.node)) {
    place.error(kind_text(place.spec), "write a bare number, without quotation marks");
    return std::nullopt;
  }
  if (!std::isfinite(number_of(place.node))) {
    place.error("a finite number", "put a number in its place, or leave the key out");
    return std::nullopt;
  }
  const double value = number_of(place.node);
  return in_range(place, value, std::nullopt) ? std::optional<Value>(value) : std::nullopt;
}

std::optional<Value> read_count(const Place& place) {
  if (place.node.kind != Node::Kind::integer) {
    place.error(kind_text(place.spec), "write a whole number, without point or quotation marks");
    return std::nullopt;
  }
  if (!in_range(place, static_cast<double>(place.node.integer), std::nullopt)) return std::nullopt;
  return static_cast<int>(place.node.integer);
}

std::optional<Value> read_flag(const Place& place) {
  if (place.node.kind == Node::Kind::flag) return place.node.flag;
  place.error("true or false", "write true or false, without quotation marks");
  return std::nullopt;
}

std::optional<std::string> read_word(const Place& place) {
  const auto& words = place.spec.words;
  for (const auto& word : words)
    if (place.node.kind == Node::Kind::text && place.node.text == word) return word;
  const auto nearest = place.node.kind == Node::Kind::text ? nearest_word(place.node.text, words) : "";
  place.error(listed(words), nearest.empty() ? "choose one of these words"
                                             : fmt::format("did you mean {}?", toml_text(nearest)));
  return std::nullopt;
}

std::optional<Value> read_text(const Place& place) {
  if (place.node.kind == Node::Kind::text && !(place.spec.required && place.node.text.empty()))
    return place.node.text;
  place.error(kind_text(place.spec), "write a text in quotation marks");
  return std::nullopt;
}

bool is_list(const Place& place, size_t n_items, const std::string& example) {
  const bool fits =
      place.node.kind == Node::Kind::list && (n_items == 0 || place.node.items.size() == n_items);
  if (!fits) place.error(kind_text(place.spec), "write for example " + example);
  return fits;
}

std::optional<Value> read_words(const Place& place) {
  if (!is_list(place, 0, "[" + toml_text(place.spec.words.front()) + "]")) return std::nullopt;
  std::vector<std::string> words;
  for (size_t i = 0; i < place.node.items.size(); ++i)
    if (auto word = read_word(place.item(i))) words.push_back(*word);
  return words.size() == place.node.items.size() ? std::optional<Value>(words) : std::nullopt;
}

std::string lengths_example(size_t n_items) {
  if (n_items == 2) return "[\"150 mm\", \"112 mm\"]";
  if (n_items == 3) return "[\"0 mm\", \"0 mm\", \"5 mm\"]";
  return "[\"3 mm\"]";
}

std::string ratios_example(size_t n_items) {
  if (n_items == 4) return "[1, 0.98, 0.96, 1.02]";
  if (n_items == 8) return "[0.95, 1.02, 0.98, 1, 1, 0.97, 0.99, 1.05]";
  return "[0.8, 0.37, 0.54]";
}

std::optional<Value> read_quantities(const Place& place, Dimension dimension, const std::string& example) {
  if (!is_list(place, place.spec.n_items, example)) return std::nullopt;
  std::vector<double> values;
  for (size_t i = 0; i < place.node.items.size(); ++i)
    if (const auto value = read_quantity(place.item(i), dimension)) values.push_back(*value);
  return values.size() == place.node.items.size() ? std::optional<Value>(values) : std::nullopt;
}

/// A list of pairs, the first of each of one dimension and the second of another.
std::optional<Value> read_pairs(const Place& place, Dimension first, Dimension second,
                                const std::string& example) {
  if (!is_list(place, 0, example)) return std::nullopt;
  std::vector<Pair> pairs;
  for (size_t i = 0; i < place.node.items.size(); ++i) {
    const auto pair = place.item(i);
    if (!is_list(pair, 2, example)) continue;
    const auto a = first == second ? read_quantity(pair.item(0), first) : read_amount(pair.item(0), first);
    const auto b = read_quantity(pair.item(1), second);
    if (a && b) pairs.push_back({*a, *b});
  }
  return pairs.size() == place.node.items.size() ? std::optional<Value>(pairs) : std::nullopt;
}

std::optional<Value> read_schedule(const Place& place) {
  if (place.node.kind != Node::Kind::list) {
    const auto peak = read_quantity(place, Dimension::pressure);
    return peak ? std::optional<Value>(std::vector<Pair>{{0, 0}, {1, *peak}}) : std::nullopt;
  }
  return read_pairs(place, Dimension::ratio, Dimension::pressure,
                    R"([["0 %", "0 psi"], ["100 %", "14500 psi"]])");
}

std::string print_list(const std::vector<std::string>& items) {
  return fmt::format("[{}]", fmt::join(items, ", "));
}

std::string print_amount(double value, Dimension dimension, const std::string& unit) {
  if (dimension == Dimension::ratio && unit.empty()) return print_number(value);
  return toml_text(print_exactly(value, dimension, unit));
}

std::string print_pair(const Pair& pair, const KeySpec& spec) {
  if (dimension_of(spec.kind) == Dimension::pressure)
    return print_list({print_amount(pair[0], Dimension::ratio, spec.kind == ValueKind::schedule ? "%" : ""),
                       print_amount(pair[1], Dimension::pressure, spec.unit)});
  if (spec.kind == ValueKind::strains) return print_list({print_number(pair[0]), print_number(pair[1])});
  return print_list({print_amount(pair[0], Dimension::length, spec.unit),
                     print_amount(pair[1], Dimension::length, spec.unit)});
}

}  // namespace

std::string kind_text(const KeySpec& spec) {
  switch (spec.kind) {
    case ValueKind::number:
      return "a bare number";
    case ValueKind::count:
      return "a whole number";
    case ValueKind::flag:
      return "true or false";
    case ValueKind::word:
      return listed(spec.words);
    case ValueKind::words:
      return "a list of " + listed(spec.words);
    case ValueKind::text:
      return "a text";
    case ValueKind::path:
      return "a path";
    case ValueKind::lengths:
      return spec.n_items == 0 ? "a list of lengths" : fmt::format("a list of {} lengths", spec.n_items);
    case ValueKind::ratios:
      return spec.n_items == 0 ? "a list of numbers" : fmt::format("a list of {} numbers", spec.n_items);
    case ValueKind::points:
      return "a list of pairs of lengths";
    case ValueKind::flow_curve:
      return "a list of pairs of plastic strain and true stress";
    case ValueKind::backstress:
      return "a list of pairs of rate and modulus";
    case ValueKind::strains:
      return "a list of pairs of minor and major strain";
    case ValueKind::schedule:
      return "a pressure, or a list of pairs of share and pressure";
    default:
      return std::string(dimension_name(dimension_of(spec.kind).value()));
  }
}

std::string range_text(const Range& range, const KeySpec& spec) {
  const bool below = std::isfinite(range.most);
  const auto most =
      below ? fmt::format("{}{}", range.most_open ? "below " : "", number_text(range.most, spec)) : "";
  if (!std::isfinite(range.least)) return below ? "up to " + most : "";
  auto least = number_text(range.least, spec);
  if (range.least == range.most) return least;
  if (range.least_open)
    return "above " + least + (below ? (range.most_open ? " and " : " and up to ") + most : "");
  return below ? least + " to " + most : "at least " + least;
}

std::optional<Value> read_value(const Node& node, const KeySpec& spec, const std::string& key,
                                Findings& findings) {
  const Place place{node, spec, key, findings};
  switch (spec.kind) {
    case ValueKind::number:
      return read_number(place);
    case ValueKind::count:
      return read_count(place);
    case ValueKind::flag:
      return read_flag(place);
    case ValueKind::word:
      return read_word(place);
    case ValueKind::words:
      return read_words(place);
    case ValueKind::text:
    case ValueKind::path:
      return read_text(place);
    case ValueKind::lengths:
      return read_quantities(place, Dimension::length, lengths_example(spec.n_items));
    case ValueKind::ratios:
      return read_quantities(place, Dimension::ratio, ratios_example(spec.n_items));
    case ValueKind::points:
      return read_pairs(place, Dimension::length, Dimension::length,
                        R"([["0 mm", "0 mm"], ["80 mm", "0 mm"], ["0 mm", "60 mm"]])");
    case ValueKind::flow_curve:
      return read_pairs(place, Dimension::ratio, Dimension::pressure,
                        R"([[0, "140 MPa"], [0.02, "175 MPa"], [0.2, "290 MPa"]])");
    case ValueKind::backstress:
      return read_pairs(place, Dimension::ratio, Dimension::pressure, R"([[60, "30 GPa"]])");
    case ValueKind::strains:
      return read_pairs(place, Dimension::ratio, Dimension::ratio, "[[-0.2, 0.42], [0, 0.28], [0.25, 0.36]]");
    case ValueKind::schedule:
      return read_schedule(place);
    default:
      return read_quantity(place, dimension_of(spec.kind).value());
  }
}

std::string print_value(const Value& value, const KeySpec& spec) {
  const auto dimension = dimension_of(spec.kind);
  if (const auto* flag = std::get_if<bool>(&value)) return *flag ? "true" : "false";
  if (const auto* count = std::get_if<int>(&value)) return std::to_string(*count);
  if (const auto* text = std::get_if<std::string>(&value)) return toml_text(*text);
  if (const auto* number = std::get_if<double>(&value))
    return dimension ? print_amount(*number, *dimension, spec.unit) : print_number(*number);
  std::vector<std::string> items;
  if (const auto* words = std::get_if<std::vector<std::string>>(&value))
    for (const auto& word : *words) items.push_back(toml_text(word));
  if (const auto* numbers = std::get_if<std::vector<double>>(&value))
    for (const double number : *numbers) items.push_back(print_amount(number, *dimension, spec.unit));
  if (const auto* pairs = std::get_if<std::vector<Pair>>(&value))
    for (const auto& pair : *pairs) items.push_back(print_pair(pair, spec));
  return print_list(items);
}

}  // namespace halftool::io
