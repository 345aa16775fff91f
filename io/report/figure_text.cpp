#include "io/report/figure_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

namespace halftool::io {
namespace {

constexpr std::size_t columns = 100;
constexpr char joint = '\x1f';  // a blank at which no line is broken

}  // namespace

std::string wrapped(const std::string& prefix, const std::string& head, const std::string& text) {
  const std::string margin(head.size(), ' ');
  std::string lines, line = prefix + head;
  bool is_empty = true;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    if (!is_empty && line.size() + 1 + word.size() > columns) {
      lines += line + '\n';
      line = prefix + margin;
      is_empty = true;
    }
    line += (is_empty ? "" : " ") + word;
    is_empty = false;
  }
  lines += line + '\n';
  std::replace(lines.begin(), lines.end(), joint, ' ');
  return lines;
}

std::string print_figure(const solver::Figure& figure, const char* is) {
  std::string text = figure.name + is;
  if (std::isfinite(figure.value))
    text += fmt::format("{:.4g}{}{}", figure.value, figure.unit.empty() ? "" : " ", figure.unit);
  else
    text += "without bound";
  std::replace(text.begin(), text.end(), ' ', joint);
  return text;
}

}  // namespace halftool::io
