#include "io/cli/tool_screening.hpp"

#include "mesh/screens/blank_corners.hpp"
#include "solver/assessment/tool_screens.hpp"

namespace halftool::io {

std::vector<solver::Screen> screen_tool(const Case& job, const ToolSurvey& survey, double pressure) {
  const mesh::ToolView& view = survey.view;
  const mesh::SheetReach& reach = survey.reach;
  const solver::ScreenLoad load = load_of(job, pressure);
  const auto bridged = solver::bridged_openings(survey.openings, load);
  return {solver::undercut_screen(mesh::find_undercuts(view, reach), mesh::find_shadow(view)),
          solver::fill_screen(mesh::find_concave_edges(view, reach, bridged), load),
          solver::print_through_screen(survey.openings, reach, load),
          solver::wall_screen(view.is_open() ? mesh::WallsAndRings{} : mesh::find_walls(view), load.pressure,
                              job.tool_allowed_stress, view.is_open()),
          solver::sharp_edge_screen(mesh::find_convex_edges(view, reach, solver::sharp_radius),
                                    mesh::find_blank_corners(job.blank, solver::sharp_radius), survey.level),
          solver::pad_stretch_screen(survey.openings, reach, load)};
}

}  // namespace halftool::io
