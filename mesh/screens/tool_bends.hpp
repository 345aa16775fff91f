#pragma once
#include <limits>
#include <vector>

#include "mesh/screens/sheet_reach.hpp"
#include "mesh/screens/tool_view.hpp"

namespace halftool::mesh {

/// A rounded outside edge of the tool over which the sheet folds, of one radius and one curvature in plan.
struct ToolBend {
  double radius = 0;  ///< of the tool's face [mm]
  double turn = 0;    ///< of the normal across the edge [rad]
  double length = 0;  ///< along the middle of the edge [mm]
  /// Of the line in plan that runs at the radius before the axis of the edge, the wall's where the edge turns
  /// by 90 degrees [1/mm]: > 0 rounded outward (the flange shrinks), < 0 inward (it stretches), 0 straight.
  double plan_curvature = 0;
  /// Of the flat sheet from the axis of the edge outward to the cut edge [mm], mean along the edge; not a
  /// number where the sheet does not end beyond the edge (it spans an opening, or lies on the tool again).
  double overhang = std::numeric_limits<double>::quiet_NaN();
  double longest_overhang = std::numeric_limits<double>::quiet_NaN();  ///< [mm]
  Eigen::Vector2d outward{0, 0};                 ///< mean direction in plan, unit; none for a closed ring
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< the facet's middle that lies nearest to the mean [mm]
  std::vector<Eigen::Vector2d> line;             ///< points of the line in plan, in no order [mm]

  [[nodiscard]] bool has_flange() const { return overhang > 0; }
};

/// The outside edges within the sheet's reach that turn by 20 degrees or more, longest first. The plan
/// curvature is that of single facets, from their corners' normals; neighbours that agree within 30 percent
/// make one edge.
/// @param symmetric_x, symmetric_y  leave out what lies at x < 0, at y < 0
std::vector<ToolBend> find_tool_bends(const ToolView& view, const SheetReach& reach, bool symmetric_x = false,
                                      bool symmetric_y = false);

}  // namespace halftool::mesh
