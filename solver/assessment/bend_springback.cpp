#include "solver/assessment/bend_springback.hpp"

#include <algorithm>
#include <stdexcept>

#include "solver/assessment/section_bend.hpp"
#include "solver/material/scaled_strength.hpp"

namespace halftool::solver {
namespace {

double opening_share(const SheetMaterial& sheet, double thickness, double radius) {
  constexpr int points = 25, steps = 100;  // within 0.3 % of many, see tests/verification/thickness_rules
  SectionBend strip(sheet, points, thickness);
  strip.bend(radius, steps);
  return strip.release();
}

}  // namespace

std::optional<BendSpringback> bend_springback(const SheetMaterial& sheet, double thickness, double radius,
                                              double scatter) {
  try {
    const double weak = opening_share(with_strength(sheet, 1 - scatter), thickness, radius);
    const double strong = opening_share(with_strength(sheet, 1 + scatter), thickness, radius);
    return BendSpringback{opening_share(sheet, thickness, radius), std::min(weak, strong),
                          std::max(weak, strong)};
  } catch (const std::runtime_error&) {
    return std::nullopt;
  }
}

}  // namespace halftool::solver
