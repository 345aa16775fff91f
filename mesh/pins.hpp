#pragma once
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/outline.hpp"

namespace halftool::mesh {

/// A locating pin in the hole of the blank that it stands in.
struct PlacedPin {
  Pin pin;               ///< in the tool's frame
  std::size_t hole = 0;  ///< number of the hole in the placed outline
  double clearance = 0;  ///< between pin and rim where they are nearest [mm]
};

/// How far a pin can move in its hole in a direction before it meets the rim [mm].
/// @param direction  unit vector
double travel(const Pin& pin, const Loop& hole, const Eigen::Vector2d& direction);

/// Finds the hole of each pin.
/// @throws MeshError  a radius that is not above zero, a pin outside of every hole, a pin that does not fit
/// into its hole as it stands, two pins in one hole, two pins whose holes leave no play along the line that
/// joins them (any stretch of the sheet would then lock: one of the two needs a slot or a larger hole)
std::vector<PlacedPin> place_pins(const BlankSpec& spec, const PlacedOutline& outline);

}  // namespace halftool::mesh
