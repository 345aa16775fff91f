#include "io/cli/tool_screening.hpp"

#include <algorithm>

#include "mesh/screens/blank_corners.hpp"
#include "solver/assessment/tool_screens.hpp"

namespace halftool::io {
namespace {

constexpr double rim_dip = 0.1;  // below a rim, in thicknesses, where the sheet over an opening leaves it

/// Openings as wide as the openings that print, or as the gaps that stretch the pad too far (h/g above 1/2).
std::vector<mesh::Opening> openings_of(const mesh::ToolView& view, double thickness) {
  const double widest = std::max(solver::widest_opening * thickness, 2 * (view.highest() - view.lowest()));
  return mesh::find_openings(view, widest, rim_dip * thickness);
}

mesh::SheetReach reach_of(const Case& job, const mesh::ToolSurface& tool, double level) {
  if (job.tool_kind == ToolKind::block) return {job.blank, level};
  return {job.blank, level, mesh::rims_of(tool.mesh(), level - job.blank.thickness)};
}

}  // namespace

std::vector<solver::Screen> screen_tool(const Case& job, const mesh::Blank& blank,
                                        const mesh::ToolSurface& tool, double pressure) {
  const mesh::ToolView view(tool);
  const double level = blank.mesh.nodes(0, 2) - 0.5 * blank.thickness;
  const mesh::SheetReach reach = reach_of(job, tool, level);
  const solver::ScreenLoad load{job.material, blank.thickness, pressure};
  const auto openings = openings_of(view, blank.thickness);
  const auto bridged = solver::bridged_openings(openings, load);
  return {solver::undercut_screen(mesh::find_undercuts(view, reach), mesh::find_shadow(view)),
          solver::fill_screen(mesh::find_concave_edges(view, reach, bridged), load),
          solver::print_through_screen(openings, reach, load),
          solver::wall_screen(view.is_open() ? mesh::WallsAndRings{} : mesh::find_walls(view), load.pressure,
                              job.tool_allowed_stress, view.is_open()),
          solver::sharp_edge_screen(mesh::find_convex_edges(view, reach, solver::sharp_radius),
                                    mesh::find_blank_corners(job.blank, solver::sharp_radius), level),
          solver::pad_stretch_screen(openings, reach, load)};
}

}  // namespace halftool::io
