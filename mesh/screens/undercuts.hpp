#pragma once
#include <vector>

#include "mesh/screens/sheet_reach.hpp"
#include "mesh/screens/tool_view.hpp"

namespace halftool::mesh {

/// A connected part of the tool that faces down, above the tray floor.
struct Undercut {
  double angle = 0;                              ///< largest lean past the press axis [rad]
  double area = 0;                               ///< [mm2]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< middle of the facet that leans most [mm]
  bool reached = false;                          ///< the sheet can come to lie there
};

/// Facets that face down by more than 0.1 degrees (noise of the normals lies below), largest angle first.
std::vector<Undercut> find_undercuts(const ToolView& view, const SheetReach& reach);

/// Part of the tool above the tray floor that faces up but has something above it.
struct Shadow {
  double area = 0;                               ///< [mm2]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< middle of the largest such facet [mm]
};
Shadow find_shadow(const ToolView& view);

}  // namespace halftool::mesh
