#pragma once
#include <vector>

#include "io/case/case.hpp"
#include "mesh/screens/openings.hpp"
#include "mesh/screens/sheet_reach.hpp"
#include "mesh/screens/tool_view.hpp"
#include "solver/assessment/fill_trace.hpp"
#include "solver/assessment/flange_estimate.hpp"

namespace halftool::io {

/// A tool half measured against a sheet: what screens and estimates look at.
struct ToolSurvey {
  /// @param tool   outlives the survey
  /// @param level  of the tool face of the flat blank [mm]
  ToolSurvey(const Case& job, const mesh::ToolSurface& tool, double level);

  mesh::ToolView view;
  double level;
  mesh::SheetReach reach;
  std::vector<mesh::Opening> openings;
};

/// Which places of a tool half the case's sheet can come to lie on.
/// @param level  of the tool face of the flat blank [mm]
mesh::SheetReach reach_of(const Case& job, const mesh::ToolSurface& tool, double level);

/// Level of the tool face of a blank that lies flat on a tool half [mm].
/// @throws mesh::MeshError  outline that cannot be, blank off the tool
double resting_level(const Case& job, const mesh::ToolSurface& tool);

/// Sheet and pressure of a case, for the formulas.
/// @param pressure  [MPa]
solver::ScreenLoad load_of(const Case& job, double pressure);

/// Scatter of the sheet's strength that bands are drawn for: the case's, or the usual one.
double strength_scatter(const Case& job);

/// Estimates of the flanges of the part that is computed.
std::vector<solver::FlangeEstimate> flanges_of(const Case& job, const ToolSurvey& survey, double pressure);

/// Inside radii of the tool half in the sheet's reach, the hardest to fill first.
std::vector<solver::RadiusToFill> inside_radii_of(const Case& job, const ToolSurvey& survey, double pressure);

}  // namespace halftool::io
