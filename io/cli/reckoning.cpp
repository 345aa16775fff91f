#include "io/cli/reckoning.hpp"

#include <fmt/format.h>

#include "io/cli/job_summary.hpp"
#include "solver/assessment/tool_lines.hpp"
#include "solver/assessment/tool_screens.hpp"

namespace halftool::io {
namespace {

/// Folds over edges that nothing can be reckoned for.
void add_sharp_edges(const ToolSurvey& survey, solver::EstimateGroup& flanges) {
  const auto sharp = mesh::find_convex_edges(survey.view, survey.reach, solver::sharp_radius).covered;
  if (sharp.length > 0 && sharp.radius == 0)
    flanges.not_found.push_back(
        fmt::format("outside edges without a radius lie under the sheet, {:.1f} mm in all with those below "
                    "{:g} mm: nothing "
                    "is reckoned for a fold over them",
                    sharp.length, solver::sharp_radius));
}

}  // namespace

std::vector<solver::EstimateGroup> reckon_case(const Case& job, const ToolSurvey& survey, double pressure) {
  const solver::ScreenLoad load = load_of(job, pressure);
  const solver::FlangeLimits limits{edge_limits(job).lowest(), bend_limit(job).strain};
  const auto bridged = solver::bridged_openings(survey.openings, load);
  const bool open = survey.view.is_open();
  auto flanges = solver::flange_lines(flanges_of(job, survey, pressure), load, limits, strength_scatter(job));
  add_sharp_edges(survey, flanges);
  return {solver::sheet_lines(load, job.press.tool_friction, limits), std::move(flanges),
          solver::fill_lines(mesh::find_concave_edges(survey.view, survey.reach, bridged), load),
          solver::opening_lines(survey.openings, survey.reach, load),
          solver::wall_lines(open ? mesh::WallsAndRings{} : mesh::find_walls(survey.view), pressure,
                             job.tool_allowed_stress, open)};
}

}  // namespace halftool::io
