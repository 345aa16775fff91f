#pragma once
#include <string>

namespace halftool::testing {

/// Block whose working edge is an arc in plan, for a curved flange: it faces +x, is symmetric about y = 0 and
/// stands on z = 0. The middle of the wall is at x = 0 and the block's back at x = -length.
struct CurvedBlock {
  double plan_radius = 100;  ///< of the wall [mm]
  bool concave = true;       ///< hollow toward +x (stretch flange); else bulging (shrink flange)
  double length = 60;        ///< from the back to the middle of the wall [mm]
  double width = 90;         ///< along y [mm], < 2 plan_radius
  double height = 30;        ///< [mm]
  double edge_radius = 4;    ///< fillet between top and wall [mm]
};

/// Writes the block as a STEP solid in mm, with a neutral header.
/// @throws std::runtime_error  the file cannot be written
void write_step(const CurvedBlock& block, const std::string& path);

}  // namespace halftool::testing
