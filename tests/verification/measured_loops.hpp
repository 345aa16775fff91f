#pragma once
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A point that was measured.
struct MeasuredPoint {
  double strain = 0;  ///< true
  double stress = 0;  ///< true [MPa]
};
using MeasuredLeg = std::vector<MeasuredPoint>;

/// A test in tension and compression and the constants that are held against it.
struct MeasuredLoop {
  std::string name;
  solver::SheetMaterial material;
  std::vector<MeasuredLeg> legs;  ///< from one turn to the next, from the virgin sheet
  std::vector<std::string> leg_names;
};

/// DP780 with two surfaces and AA6022 with backstress, constants fitted to these points. Measured points
/// published as files by S.-Y. Yoon, university laboratory, no paper named; a selection, read off.
std::vector<MeasuredLoop> measured_loops();

/// DP780 with the constants of the laboratory that measured.
MeasuredLoop dp780_loop_as_published();

/// Root mean square miss of stress of each leg over the largest measured stress, the sheet driven through the
/// measured strains. @param longest_step  of strain
std::vector<double> leg_misses(const MeasuredLoop& loop, double longest_step);

/// The sheet's own points at the measured strains. @param longest_step  of strain
std::vector<MeasuredPoint> computed_points(const MeasuredLoop& loop, double longest_step);

}  // namespace halftool::test
