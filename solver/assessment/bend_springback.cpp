#include "solver/assessment/bend_springback.hpp"

#include <algorithm>
#include <stdexcept>

#include "solver/assessment/section_bend.hpp"

namespace halftool::solver {
namespace {

void scale(SwiftHardening& law, double factor) {
  law.strength *= factor;
}
void scale(VoceHardening& law, double factor) {
  law.initial *= factor;
  law.saturation *= factor;
}
void scale(HollomonHardening& law, double factor) {
  law.strength *= factor;
  law.initial *= factor;
}
void scale(LudwikHardening& law, double factor) {
  law.initial *= factor;
  law.strength *= factor;
}
void scale(SwiftVoceHardening& law, double factor) {
  scale(law.swift, factor);
  scale(law.voce, factor);
}
void scale(TableHardening& law, double factor) {
  for (auto& [strain, stress] : law.points) stress *= factor;
}

double opening_share(const SheetMaterial& sheet, double thickness, double radius) {
  constexpr int points = 25, steps = 100;  // within 0.3 % of many, see tests/verification/thickness_rules
  SectionBend strip(sheet, points, thickness);
  strip.bend(radius, steps);
  return strip.release();
}

}  // namespace

SheetMaterial with_strength(SheetMaterial sheet, double factor) {
  std::visit([&](auto& law) { scale(law, factor); }, sheet.hardening);
  return sheet;
}

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
