#include "io/drawing/dxf_pairs.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "io/drawing/drawing_error.hpp"

namespace halftool::io {
namespace {

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blank = " \t\r";
  const auto first = text.find_first_not_of(blank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blank) - first + 1);
}

template <class Number>
std::optional<Number> as_number(std::string_view value) {
  if (value.starts_with('+')) value.remove_prefix(1);
  Number number{};
  const auto [end, fault] = std::from_chars(value.data(), value.data() + value.size(), number);
  if (fault != std::errc{} || end != value.data() + value.size()) return std::nullopt;
  return number;
}

/// Lines of a text, one after the other.
class Lines {
 public:
  explicit Lines(std::string_view text) : rest_(text) {}
  std::optional<std::string_view> next() {
    if (rest_.empty()) return std::nullopt;
    const auto end = rest_.find('\n');
    const auto line = rest_.substr(0, end);
    rest_ = end == std::string_view::npos ? std::string_view() : rest_.substr(end + 1);
    ++number_;
    return trimmed(line);
  }
  [[nodiscard]] int number() const { return number_; }

 private:
  std::string_view rest_;
  int number_ = 0;
};

}  // namespace

std::optional<double> dxf_real(std::string_view value) {
  const auto number = as_number<double>(value);
  return number && std::isfinite(*number) ? number : std::nullopt;
}

std::optional<int> dxf_integer(std::string_view value) {
  return as_number<int>(value);
}

std::vector<DxfPair> dxf_pairs(std::string_view text) {
  if (text.starts_with("AutoCAD Binary DXF"))
    throw DrawingError({"drawing", "a DXF file in binary form", "a DXF file in text form",
                        "save the drawing as DXF in text form (ASCII)"});
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  Lines lines(text);
  std::vector<DxfPair> pairs;
  while (const auto code = lines.next()) {
    const auto number = dxf_integer(*code);
    if (!number)
      throw DrawingError({"drawing",
                          pairs.empty() ? "a file that does not begin like DXF"
                                        : fmt::format("line {} where a group code belongs", lines.number()),
                          "a DXF file in text form", "save the drawing anew as DXF"});
    const auto value = lines.next();
    if (!value) break;
    pairs.push_back({*number, *value, lines.number()});
    if (*number == 0 && *value == "EOF") return pairs;
  }
  throw DrawingError({"drawing", fmt::format("a DXF file that breaks off at line {}", lines.number()),
                      "a DXF file with its end mark EOF", "save or copy the drawing anew"});
}

}  // namespace halftool::io
