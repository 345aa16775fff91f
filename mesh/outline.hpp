#pragma once
#include <Eigen/Core>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/outline_piece.hpp"

namespace halftool::mesh {

/// The blank's outer curve and its holes, each a closed loop, placed in the tool's frame.
struct PlacedOutline {
  Loop outer;
  std::vector<Loop> holes;
  Eigen::Vector2d low, high;  ///< bounding box of the outer curve [mm]

  /// The smaller side of the bounding box in the blank's own frame [mm].
  double smaller_extent = 0;
};

/// Checks the outline and puts it where it is to lie.
/// @throws MeshError  measures not above zero, crossing sides, too large corner radii, holes outside or
/// overlapping
PlacedOutline place_outline(const BlankSpec& spec);

}  // namespace halftool::mesh
