#pragma once
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"
#include "solver/result.hpp"
#include "tests/verification/bulge_pole.hpp"

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

/// The dome at full pressure.
struct Dome {
  double height = 0;  ///< of the pole below the rim's mid-surface [mm]
  Pole pole;
  solver::RunRecord record;
  std::vector<std::string> notes;
};

Dome bulge(const BulgeSetup& setup);

}  // namespace halftool::test
