#include "tests/verification/wide_bending.hpp"

#include <cmath>

#include "solver/assessment/section_bend.hpp"
#include "tests/support/fibre_bending.hpp"

namespace halftool::test {
namespace {

// Increments of curvature: the implicit update then errs by less than 1e-5 of the moment (measured against
// twice as many).
constexpr int kSteps = 100;

}  // namespace

const std::vector<BendRow>& bend_table() {
  static const std::vector<BendRow> rows = {
      {"perfectly plastic", perfect(), 1.2, 6.37, 103.863, .94027, 5.376},
      {"perfectly plastic", perfect(), 1.2, 12, 103.709, .88765, 10.112},
      {"perfectly plastic", perfect(), 1.2, 24, 103.068, .77669, 20.098},
      {"perfectly plastic", perfect(), 1.2, 60, 98.602, .46591, 48.068},
      {"mild steel", mild_steel(), .78, 5.39, 47.556, .97137, 2.577},
      {"mild steel", mild_steel(), .78, 7.8, 43.749, .96188, 3.431},
      {"mild steel", mild_steel(), .78, 15.6, 37.900, .93396, 5.944},
      {"mild steel", mild_steel(), .78, 39, 32.493, .85844, 12.740},
      {"soft aluminium", soft_aluminium(), .81, 5.405, 41.651, .93620, 5.742},
      {"soft aluminium", soft_aluminium(), .81, 8.1, 37.335, .91430, 7.713},
      {"soft aluminium", soft_aluminium(), .81, 16.2, 31.835, .85384, 13.154},
      {"soft aluminium", soft_aluminium(), .81, 40.5, 27.264, .68708, 28.163},
      {"AA6016-T4", aa6016(), 1, 3, 81.283, .96275, 3.353},
      {"AA6016-T4", aa6016(), 1, 5, 71.708, .94523, 4.929},
      {"AA6016-T4", aa6016(), 1, 10, 59.226, .90953, 8.143},
      {"AA6016-T4", aa6016(), 1, 25, 48.093, .81633, 16.530}};
  return rows;
}

SectionBendResult bend_section(const solver::SheetMaterial& material, double thickness, double radius,
                               int n_points, double outer_pressure, double inner_pressure) {
  solver::SectionBend strip(material, n_points, thickness);
  SectionBendResult result;
  result.moment = strip.bend(radius, kSteps, outer_pressure, inner_pressure);
  result.thickness = strip.thickness();
  result.springback = strip.release(outer_pressure, inner_pressure);
  return result;
}

Straightened straighten_section(const solver::SheetMaterial& material, double thickness, double radius,
                                int n_points) {
  solver::SectionBend strip(material, n_points, thickness);
  strip.bend(radius, kSteps);
  Straightened result;
  result.moment = strip.straighten(kSteps);
  strip.release();
  result.turn = strip.turn();
  return result;
}

Straightened straighten_fibres(const solver::SheetMaterial& material, double thickness, double radius) {
  FibreBend bend{material, thickness, radius};
  bend.straightened = true;
  const FibreBendResult result = bend_and_release(bend);
  return {result.moment, result.released_turn};
}

double gardiner(double youngs_modulus, double poissons_ratio, double yield_stress,
                double radius_over_thickness) {
  const double flow = 2 / std::sqrt(3.0) * yield_stress;
  const double x = radius_over_thickness * flow * (1 - poissons_ratio * poissons_ratio) / youngs_modulus;
  return 3 * x - 4 * x * x * x;
}

}  // namespace halftool::test
