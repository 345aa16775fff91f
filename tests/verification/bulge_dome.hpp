#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"
#include "solver/result.hpp"

namespace halftool::test {

/// A round sheet bulged into a round cavity, its rim held.
struct BulgeSetup {
  solver::SheetMaterial material;
  double thickness = 0.5;      ///< [mm]
  double opening_radius = 50;  ///< [mm]
  double entry_radius = 8;     ///< [mm]
  double pressure = 1;         ///< [MPa]
  double edge_length = 3;      ///< largest, at the pole [mm]
};

/// The dome at full pressure. Pole values are area means over the triangles within a tenth of the opening
/// radius.
struct Dome {
  double height = 0;            ///< of the pole below the rim's mid-surface [mm]
  double radius = 0;            ///< of the mid-surface at the pole, from the nodes [mm]
  double thickness = 0;         ///< [mm]
  double stress = 0;            ///< Cauchy, mean of the two directions, mid-surface sample [MPa]
  double stress_mean = 0;       ///< the same, mean over the thickness [MPa]
  double stress_spread = 0;     ///< largest difference of the two directions over their mean
  double normal_stress = 0;     ///< at mid-surface [MPa]
  double thickness_strain = 0;  ///< ln(t/t0)
  double surface_strain = 0;    ///< sum of the two logarithmic strains of the mid-surface sample
  double area_strain = 0;       ///< ln(area/area before) of the same triangles, from their corners alone
  solver::RunRecord record;
  std::vector<std::string> notes;
};

Dome bulge(const BulgeSetup& setup);

}  // namespace halftool::test
