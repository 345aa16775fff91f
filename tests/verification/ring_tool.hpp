#pragma once
#include "mesh/tool_surface.hpp"

namespace halftool::test {

/// A tool half of revolution about z: a level top at z = 0, an edge rounding and a straight wall that a
/// flange is folded over.
struct RingTool {
  double axis_radius = 0;   ///< of the rounding's axis, in plan [mm]
  double edge_radius = 0;   ///< of the rounding [mm]
  double turn = 0;          ///< from the level top to the wall [rad]
  bool inward = false;      ///< the wall lies inside of the rounding (a hole); else outside
  double top = 0;           ///< width of the level top [mm]
  double wall = 0;          ///< length of the wall below the rounding [mm]
  double from = 0, to = 0;  ///< angles about z between which it is made [rad]
};

/// Regular facets with exact normals, about 3 degrees each along the rounding and 2 degrees about z.
mesh::ToolSurface ring_tool(const RingTool& shape);

}  // namespace halftool::test
