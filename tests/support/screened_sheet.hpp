#pragma once
#include "mesh/screens/sheet_reach.hpp"

namespace halftool::testing {

/// A square blank about the origin, 1 mm thick.
inline mesh::BlankSpec square_blank(double side, double corner_radius = 0) {
  mesh::BlankSpec blank;
  blank.outline = mesh::RectangleOutline{side, side, corner_radius};
  blank.thickness = 1;
  return blank;
}

/// Reach of such a blank that lies at a level over a block.
inline mesh::SheetReach reach_over(double side, double level) {
  return {square_blank(side), level};
}

}  // namespace halftool::testing
