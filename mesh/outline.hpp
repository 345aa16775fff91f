#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "mesh/blank.hpp"

namespace halftool::mesh {

/// One piece of a closed plane curve: a straight line, or an arc of less than half a turn.
struct OutlinePiece {
  Eigen::Vector2d start, end;             ///< [mm]
  std::optional<Eigen::Vector2d> centre;  ///< of an arc
  std::string name;                       ///< for messages: "corner 3", "hole 1"

  [[nodiscard]] double radius() const { return centre ? (start - *centre).norm() : 0; }
};
using Loop = std::vector<OutlinePiece>;

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

/// Distance of a point from a piece [mm].
double distance_to(const OutlinePiece& piece, const Eigen::Vector2d& x);

/// Corners of a polygon that follows the loop, arcs cut into chords of at most 3 degrees; the first is not
/// repeated.
std::vector<Eigen::Vector2d> as_polygon(const Loop& loop);

/// Whether a point lies inside a polygon (even-odd rule).
bool is_inside(const std::vector<Eigen::Vector2d>& polygon, const Eigen::Vector2d& x);

}  // namespace halftool::mesh
