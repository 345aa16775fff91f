#include "tests/verification/edge_neck.hpp"

#include <algorithm>
#include <numbers>
#include <stdexcept>
#include <variant>

#include "tests/verification/cup_ears.hpp"

namespace halftool::test {
namespace {

double least_r(const solver::YieldCondition& yield) {
  if (std::holds_alternative<solver::VonMises>(yield)) return 1;
  const auto* r = std::get_if<solver::RValues>(&yield);
  if (!r) throw std::invalid_argument("the neck of an edge is known for von Mises and Hill 1948 only");
  double least = r->r0;
  for (int degrees = 1; degrees <= 90; ++degrees)
    least = std::min(least, r_value(*r, degrees * std::numbers::pi / 180));
  return least;
}

/// Where the slope has fallen to a share of the stress; the curve hardens ever less.
double strain_at(const solver::Hardening& hardening, double share) {
  double before = 0, after = 4;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (before + after);
    const solver::FlowStress flow = solver::flow_stress(hardening, middle);
    (flow.slope > share * flow.stress ? before : after) = middle;
  }
  return before;
}

}  // namespace

EdgeNeck edge_neck(const solver::SheetMaterial& material) {
  EdgeNeck neck;
  neck.r = least_r(material.yield);
  neck.diffuse = solver::uniform_strain(material.hardening);
  neck.local = strain_at(material.hardening, 1 / (1 + neck.r));
  return neck;
}

}  // namespace halftool::test
