#pragma once
#include <vector>

#include "mesh/screens/tool_view.hpp"

namespace halftool::mesh {

/// A hole, slot or gap between two walls of the tool that face each other, open upwards.
struct Opening {
  double width = 0;                                   ///< of the mouth, from rim to rim [mm]
  double length = 0;                                  ///< across the width, at most the tool's extent [mm]
  double depth = 0;                                   ///< below the lower rim, at the middle [mm]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();       ///< middle of the mouth [mm]
  Eigen::Vector3d across = Eigen::Vector3d::UnitX();  ///< unit, along the width

  /// As long as wide, within a half (own judgement): a hole rather than a slot.
  [[nodiscard]] bool is_hole() const { return length <= 1.5 * width; }
  /// Whether a place lies below the mouth.
  [[nodiscard]] bool holds(const Eigen::Vector3d& x) const;
};

/// Each opening once, where it is narrowest; narrowest first. Found by looking from every wall across to the
/// next one. Widths are those between the rims `dip` below the lower of them.
/// @param widest  wider openings are left out [mm]
/// @param dip     [mm], > 0
std::vector<Opening> find_openings(const ToolView& view, double widest, double dip);

}  // namespace halftool::mesh
