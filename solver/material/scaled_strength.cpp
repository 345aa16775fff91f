#include "solver/material/scaled_strength.hpp"

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
void scale(YoshidaUemoriHardening& law, double factor) {
  law.yield *= factor;
  law.bound *= factor;
  law.bound_shift *= factor;
  law.bound_gain *= factor;
}

}  // namespace

SheetMaterial with_strength(SheetMaterial sheet, double factor) {
  std::visit([&](auto& law) { scale(law, factor); }, sheet.hardening);
  for (BackstressTerm& term : sheet.backstress) term.modulus *= factor;
  return sheet;
}

}  // namespace halftool::solver
