#include "io/report/limit_text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace halftool::io {
namespace {

std::string counted(const std::string& name, double value, double most, const std::string& unit) {
  if (value > most) return fmt::format("{} {:.4g}{}, which counts as {:g}{}", name, value, unit, most, unit);
  return fmt::format("{} {:.4g}{} (counts up to {:g}{})", name, value, unit, most, unit);
}

}  // namespace

std::string estimate_formula(const solver::EstimatedLimit& limit) {
  auto text = fmt::format(
      "(23.3 + 14.13 t) n/0.21 = {:.1f} % engineering, true strain {:.3f}; {}, the uniform true strain of "
      "the "
      "hardening law; {}",
      100 * std::expm1(limit.plane_strain), limit.plane_strain,
      counted("n", limit.exponent, solver::EstimatedLimit::kMostExponent, ""),
      counted("t", limit.thickness, solver::EstimatedLimit::kMostThickness, " mm"));
  if (limit.plane_strain <= solver::kLeastLimit)
    text += fmt::format("; true strain not below {:g}", solver::kLeastLimit);
  return text;
}

}  // namespace halftool::io
