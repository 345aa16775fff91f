#pragma once
#include <vector>

#include "tests/support/reference_sheets.hpp"

namespace halftool::test {

/// One bend of a wide sheet as reckoned independently, fibre by fibre with linear strain y/R and elastic
/// release (no published source). Constants: reference_sheets.hpp; the first row of the perfectly plastic
/// sheet is a textbook tube of 6.37 mm radius, the first of mild steel and of aluminium have the tool radius
/// 5 mm of the NUMISHEET'93 draw bend plus half the thickness.
struct BendRow {
  const char* sheet;
  solver::SheetMaterial material;
  double thickness;    ///< [mm]
  double radius;       ///< of the mid-surface [mm]
  double moment;       ///< [N mm/mm]
  double ratio;        ///< radius formed over radius released
  double opens_at_90;  ///< springback of a 90 degree arc [deg]
};
const std::vector<BendRow>& bend_table();

/// What a section gives in logarithmic strain, net force zero, plane strain.
struct SectionBendResult {
  double moment = 0;      ///< formed [N mm/mm]
  double springback = 0;  ///< share of the turn that opens
  double thickness = 0;   ///< formed [mm]
};
/// @param n_points  Gauss points of the solver's section
SectionBendResult bend_section(const solver::SheetMaterial& material, double thickness, double radius,
                               int n_points, double outer_pressure = 0, double inner_pressure = 0);

/// A strip bent, bent flat again and released: reverse yield over most of the thickness.
struct Straightened {
  double moment = 0;  ///< that holds it flat, < 0 [N mm/mm]
  double turn = 0;    ///< released, per reference length [1/mm]
};
Straightened straighten_section(const solver::SheetMaterial& material, double thickness, double radius,
                                int n_points);
Straightened straighten_fibres(const solver::SheetMaterial& material, double thickness, double radius);

/// Springback of the perfectly plastic wide sheet by Gardiner, Trans. ASME 79 (1957) 1-9, with plane-strain
/// constants: 3 x - 4 x^3, x = R S/(E' t), S = 2/sqrt3 yield stress, E' = E/(1 - nu^2).
double gardiner(double youngs_modulus, double poissons_ratio, double yield_stress,
                double radius_over_thickness);

}  // namespace halftool::test
