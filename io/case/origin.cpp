#include "io/case/origin.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace halftool::io {

const std::vector<std::string>& grades() {
  static const std::vector<std::string> words = {"measured certificate", "measured publication",
                                                 "handbook typical", "user", "guessed"};
  return words;
}

const std::string& worse_grade(const std::string& a, const std::string& b) {
  const auto rank = [](const std::string& grade) {
    return std::find(grades().begin(), grades().end(), grade);
  };
  return rank(a) < rank(b) ? b : a;
}

std::optional<double> LeastBends::ratio_at(double thickness) const {
  const auto next = std::find_if(ratios.begin(), ratios.end(),
                                 [&](const auto& row) { return thickness <= row[0] * (1 + 1e-9); });
  if (next == ratios.end()) return std::nullopt;
  return (*next)[1];
}

std::string print_origin(const ConstantOrigin& origin) {
  return fmt::format("{} = {}: {}, {}{}{}", origin.key, origin.value, origin.grade, origin.source,
                     origin.note.empty() ? "" : "; ", origin.note);
}

}  // namespace halftool::io
