#pragma once
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"
#include "solver/result.hpp"
#include "tests/verification/borne_contact.hpp"

namespace halftool::test {

/// A strip in plane strain wrapped over a half cylinder by fluid pressure, without friction. Its half length
/// is three radii: where the sheet lifts off, a length l of tail under the pressure p carries the bending
/// moment M = p l^2/2 and the tool a line load p l = 2 M/l.
struct WrapSetup {
  solver::SheetMaterial material;
  double thickness = 1;           ///< [mm]
  double ratio = 10;              ///< radius of the mid-surface on the tool over the thickness
  double pressure = 1;            ///< peak [MPa]
  double elements_per_bend = 24;  ///< over 90 degrees of the mid-surface
  bool normal_stress = true;
  bool edges_loaded = true;
  int layers = 15;  ///< leaves 0.5 % of the moment, 11 leave 0.8 % (section alone, R/t 10 to 20)
  double friction = 0;
  unsigned seed = 3;  ///< of the irregular mesh; 0: regular
};

struct WrapResult {
  double curvature = 0;   ///< formed turn per reference length of the interior arc, least squares [1/mm]
  double springback = 0;  ///< share of that turn that opens
  solver::RunRecord record;
  std::vector<std::string> notes;
};

/// Presses and releases the strip. Irregular mesh, half of the strip by symmetry, both long edges symmetry
/// planes. The arc measured runs from 15 to 45 degrees of the cylinder: beyond the crown where the bend
/// starts, and fully wrapped once the tail has come down to two radii.
WrapResult wrap_and_release(const WrapSetup& setup);

/// What the tool bears under the pressed strip, between two angles from the crown.
BorneContact pressed_contact(const WrapSetup& setup, const ArcParts& parts);

}  // namespace halftool::test
