#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "io/case/checks/case_checks.hpp"
#include "io/cli/setup_checks.hpp"
#include "io/cli/tool_survey.hpp"
#include "mesh/screens/mirror_image.hpp"

namespace halftool::io {
namespace {

// Both are own judgement.
constexpr double same_in_thicknesses = 0.05;  // what the two sides may differ by beside the facets' error
constexpr double half_tool = 0.25;  // reach beyond the plane over that before it, of a tool cut at the plane

const char* const axis_names[] = {"x", "y"};

std::vector<int> planes_of(const Case& job) {
  std::vector<int> axes;
  if (job.blank.symmetric_x) axes.push_back(0);
  if (job.blank.symmetric_y) axes.push_back(1);
  return axes;
}

double tolerance_of(const Case& job, const mesh::ToolSurface& tool) {
  const double facets = std::isfinite(tool.geometric_error) ? 2 * tool.geometric_error : 0;
  return facets + same_in_thicknesses * job.blank.thickness;
}

/// How far a tool that is cut at the plane reaches beyond it [mm]; nothing of a whole one.
std::optional<double> past_the_cut(const mesh::SidesOfPlane& sides) {
  const double past = std::max(-sides.before, 0.0);
  if (past > half_tool * sides.beyond) return std::nullopt;
  return past;
}

/// "the tool half", with the step from which it stands where there are several.
std::string name_of(const Case& job, const ToolSet& set, std::size_t tool) {
  if (set.tools.size() == 1) return "a tool half";
  return "a tool half of step " + step_name(job, set.first_step_on(tool));
}

}  // namespace

void refuse_asymmetric_tools(const Case& job, const ToolSet& set) {
  const std::vector<int> axes = planes_of(job);
  if (axes.empty()) return;
  const double level = resting_level(job, set.tools.front());
  std::vector<CaseProblem> problems;
  for (std::size_t i = 0; i < set.tools.size(); ++i) {
    const mesh::ToolSurface& tool = set.tools[i];
    const mesh::SheetReach reach = reach_of(job, tool, level);
    const double tolerance = tolerance_of(job, tool);
    for (const int axis : axes) {
      const auto past = past_the_cut(mesh::sides_of_plane(tool, axis));
      const double within = past ? *past - tolerance : std::numeric_limits<double>::infinity();
      const auto difference = mesh::find_mirror_difference(tool, axis, reach, within, tolerance);
      if (!difference) continue;
      const Eigen::Vector3d& at = difference->at;
      CaseProblem problem = problem_at(job, {"symmetry.planes"});
      problem.found =
          fmt::format("{} that differs by {:.3g} mm across {} = 0, at ({:.4g}, {:.4g}, {:.4g}) mm",
                      name_of(job, set, i), difference->distance, axis_names[axis], at.x(), at.y(), at.z());
      problem.allowed = fmt::format(
          "planes across which the tool half under the sheet is the same on both sides, to {:.2g} mm",
          tolerance);
      problem.mend = fmt::format(
          "place the tool half so that its middle lies at {} = 0, or leave this plane out and compute the "
          "whole",
          axis_names[axis]);
      problems.push_back(problem);
    }
  }
  if (!problems.empty()) throw CaseError(problems);
}

std::vector<CaseWarning> symmetry_doubts(const Case& job, const ToolSet& set) {
  std::vector<CaseWarning> doubts;
  for (std::size_t i = 0; i < set.tools.size(); ++i) {
    const double tolerance = tolerance_of(job, set.tools[i]);
    for (const int axis : planes_of(job)) {
      const mesh::SidesOfPlane sides = mesh::sides_of_plane(set.tools[i], axis);
      const auto past = past_the_cut(sides);
      if (!past || std::abs(sides.before) <= tolerance) continue;
      CaseWarning doubt = problem_at(job, {"symmetry.planes"});
      doubt.found = fmt::format("{} that {} {:.3g} mm {} {} = 0", name_of(job, set, i),
                                *past > 0 ? "reaches" : "begins", std::abs(sides.before),
                                *past > 0 ? "beyond" : "behind", axis_names[axis]);
      doubt.allowed = "a whole tool half, or one that is cut at the plane";
      doubt.mend = fmt::format(
          "it is taken for a half of the tool, of which {} >= 0 counts: look whether it stands in its place",
          axis_names[axis]);
      doubts.push_back(doubt);
    }
  }
  return doubts;
}

}  // namespace halftool::io
