#include "solver/assessment/bend_springback.hpp"

#include <algorithm>
#include <stdexcept>

#include "solver/assessment/section_bend.hpp"
#include "solver/material/scaled_strength.hpp"

namespace halftool::solver {
namespace {

/// Of one sheet, without a band.
BendSpringback let_go(const SheetMaterial& sheet, double thickness, double radius) {
  constexpr int points = 25, steps = 100;  // within 0.3 % of many, see tests/verification/thickness_rules
  SectionBend strip(sheet, points, thickness);
  BendSpringback bend;
  bend.moment = strip.bend(radius, steps);
  bend.share = strip.release();
  return bend;
}

}  // namespace

std::optional<BendSpringback> bend_springback(const SheetMaterial& sheet, double thickness, double radius,
                                              double scatter) {
  try {
    const double weak = let_go(with_strength(sheet, 1 - scatter), thickness, radius).share;
    const double strong = let_go(with_strength(sheet, 1 + scatter), thickness, radius).share;
    BendSpringback bend = let_go(sheet, thickness, radius);
    bend.low = std::min(weak, strong);
    bend.high = std::max(weak, strong);
    return bend;
  } catch (const std::runtime_error&) {
    return std::nullopt;
  }
}

}  // namespace halftool::solver
