#pragma once
#include "mesh/flatness.hpp"
#include "solver/material/sheet_material.hpp"
#include "solver/stepping/press_spec.hpp"

namespace halftool::test {

/// What stands for the strip. A flange that is wide beside its bend radius is in plane strain but near its
/// ends.
enum class StripModel {
  crossed,    ///< plane strain: one row of cells across, cut by both diagonals, between planes of symmetry
  irregular,  ///< plane strain: a strip as the program meshes a blank, between planes of symmetry
  free_sides  ///< a narrow sheet: the same mesh, its long cut edges free and pressed on by the fluid
};

/// A strip of the straight-flange bracket (cases/straight_flange): 100 mm long over a block of 60 mm, half of
/// it by symmetry.
struct FlangeStrip {
  solver::SheetMaterial material;
  double edge_radius = 3;  ///< of the block [mm]
  double pressure = 100;   ///< peak [MPa]
  double friction = 0.1;
  bool normal_stress = true;
  StripModel model = StripModel::irregular;
  double width = 10;              ///< [mm], of the crossed strip that of a cell in the bend
  double elements_per_bend = 10;  ///< over 90 degrees, graded away from it by the rule of mesh/size_field
  double coarsest = 0;            ///< edge length [mm]; 0: one thickness, or what the program takes
  mesh::Flatness flatness = {};   ///< of the irregular strips
  solver::SolverSettings settings;
};

inline constexpr double kFlangeThickness = 1.6;  // [mm]

/// The same strip, crossed, with mesh and settings finer than the program's own: mesh, increments and
/// penetration halved or points through the thickness doubled move springback at 100 MPa by at most 0.05
/// degrees (benchmarks/verification/flange).
FlangeStrip converged(FlangeStrip setup);

struct FlangeResult {
  double springback = 0;    ///< [rad]
  double thinning = 0;      ///< largest, (t0 - t)/t0
  double axial_strain = 0;  ///< of the mid-surface along the strip, mean over the bend
  double turn_bend = 0;     ///< what of the springback opens in the bend [rad]; the flange's curl is the rest
  int iterations = 0;       ///< to full pressure
  double regularisation_work = 0;  ///< [N mm]
  bool rests = true;               ///< the dwell came to rest, and no other doubts
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
