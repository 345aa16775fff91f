#pragma once
#include "mesh/flatness.hpp"
#include "solver/material/sheet_material.hpp"
#include "solver/stepping/press_spec.hpp"

namespace halftool::test {

/// A strip, 10 mm wide, of the straight-flange bracket (cases/straight_flange): 100 mm over a block of 60 mm,
/// half of it by symmetry along and across, cut edges free.
struct FlangeStrip {
  solver::SheetMaterial material;
  double edge_radius = 3;  ///< of the block [mm]
  double pressure = 100;   ///< peak [MPa]
  bool normal_stress = true;
  double elements_per_bend = 10;
  mesh::Flatness flatness = {};
  solver::SolverSettings settings;
};

inline constexpr double kFlangeThickness = 1.6;  // [mm]

struct FlangeResult {
  double springback = 0;      ///< [rad]
  double thinning = 0;        ///< largest, (t0 - t)/t0
  double thickness_bend = 0;  ///< least over the initial thickness
  double axial_strain = 0;    ///< of the mid-surface along the strip, mean over the bend
  double turn_bend = 0;  ///< what of the springback opens in the bend [rad]; the flange's curl is the rest
  int iterations = 0;    ///< to full pressure
  bool rests = true;     ///< the dwell came to rest, and no other doubts
};

/// @throws solver::SolveError
FlangeResult press_flange(const FlangeStrip& setup);

/// Springback of the pure bend of 90 degrees over the same radius (tests/support/fibre_bending) [rad].
double pure_bend_springback(const FlangeStrip& setup);

/// The sheets: 6061-O (K, n: Kalpakjian and Schmid, table 2.3; yield: Callister, appendix B.4), low-carbon
/// steel and 2024-T3 (K, n: Kalpakjian and Schmid; 2024-T3's yield: Callister; the steel's from memory).
solver::SheetMaterial sheet_6061_o();
solver::SheetMaterial sheet_low_carbon();
solver::SheetMaterial sheet_2024_t3();

}  // namespace halftool::test
