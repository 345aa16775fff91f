#include "io/cli/tool_survey.hpp"

#include <algorithm>

#include "mesh/highest_point.hpp"
#include "mesh/outline.hpp"
#include "solver/assessment/tool_screens.hpp"

namespace halftool::io {
namespace {

constexpr double rim_dip = 0.1;  // below a rim, in thicknesses, where the sheet over an opening leaves it

/// Openings as wide as the openings that print, or as the gaps that stretch the pad too far (h/g above 1/2).
std::vector<mesh::Opening> openings_of(const mesh::ToolView& view, double thickness) {
  const double widest = std::max(solver::widest_opening * thickness, 2 * (view.highest() - view.lowest()));
  return mesh::find_openings(view, widest, rim_dip * thickness);
}

}  // namespace

mesh::SheetReach reach_of(const Case& job, const mesh::ToolSurface& tool, double level) {
  if (job.tool_kind == ToolKind::block) return {job.blank, level};
  return {job.blank, level, mesh::rims_of(tool.mesh(), level - job.blank.thickness)};
}

ToolSurvey::ToolSurvey(const Case& job, const mesh::ToolSurface& tool, double at_level)
    : view(tool),
      level(at_level),
      reach(reach_of(job, tool, at_level)),
      openings(openings_of(view, job.blank.thickness)) {}

double resting_level(const Case& job, const mesh::ToolSurface& tool) {
  return mesh::resting_level(mesh::place_outline(job.blank), tool);
}

solver::ScreenLoad load_of(const Case& job, double pressure) {
  return {job.material, job.blank.thickness, pressure};
}

double strength_scatter(const Case& job) {
  return job.scatter.strength.value_or(solver::usual_strength_scatter);
}

std::vector<solver::FlangeEstimate> flanges_of(const Case& job, const ToolSurvey& survey, double pressure) {
  const auto bends =
      mesh::find_tool_bends(survey.view, survey.reach, job.blank.symmetric_x, job.blank.symmetric_y);
  return solver::estimate_flanges(bends, load_of(job, pressure), strength_scatter(job));
}

std::vector<solver::RadiusToFill> inside_radii_of(const Case& job, const ToolSurvey& survey,
                                                  double pressure) {
  const solver::ScreenLoad load = load_of(job, pressure);
  const auto bridged = solver::bridged_openings(survey.openings, load);
  std::vector<solver::RadiusToFill> radii;
  for (const mesh::ConcaveRadius& hollow : mesh::find_concave_edges(survey.view, survey.reach, bridged).radii)
    radii.push_back({hollow, solver::fill_finding(hollow, load).found.value});
  return radii;
}

}  // namespace halftool::io
