#include "io/cli/setup_checks.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <optional>

#include "io/case/checks/case_checks.hpp"
#include "io/cli/job_steps.hpp"
#include "io/cli/size_checks.hpp"
#include "mesh/highest_point.hpp"
#include "mesh/outline.hpp"
#include "mesh/pins.hpp"
#include "mesh/screens/mirror_image.hpp"
#include "mesh/screens/resting.hpp"

namespace halftool::io {
namespace {

constexpr double tip_share = 0.01;  // of the blank's smaller side; own judgement

struct Box {
  Eigen::Vector3d low, high;  ///< [mm]
};

/// What holds the formed part, whichever way the sheet goes.
Box part_box(const Case& job, const ToolSet& set) {
  const mesh::PlacedOutline outline = mesh::place_outline(job.blank);
  Box box;
  box.low << outline.low, set.tools.front().mesh().nodes.col(2).minCoeff();
  box.high << outline.high, set.tools.front().mesh().nodes.col(2).maxCoeff();
  for (const mesh::ToolSurface& tool : set.tools) {
    box.low.z() = std::min(box.low.z(), tool.mesh().nodes.col(2).minCoeff());
    box.high.z() = std::max(box.high.z(), tool.mesh().nodes.col(2).maxCoeff());
  }
  box.high.z() += job.blank.thickness;
  return box;
}

/// The two axes of a line's plane: (y, z), (x, z) or (x, y).
Eigen::Vector2d seen_along(int axis, const Eigen::Vector3d& x) {
  return {x(axis == 0 ? 1 : 0), x(axis == 2 ? 1 : 2)};
}

bool stands_above_lowest(const mesh::ToolSurface& tool, const mesh::Loop& circle) {
  const auto heights = tool.mesh().nodes.col(2);
  const auto top = mesh::highest_under(tool, mesh::as_polygon(circle), {});
  return top && *top > heights.minCoeff() + 1e-6 * (heights.maxCoeff() - heights.minCoeff());
}

void doubt_pins(const Case& job, const mesh::ToolSurface& tool, std::vector<CaseWarning>& doubts) {
  if (job.blank.pins.empty()) return;
  const auto pins = mesh::place_pins(job.blank, mesh::place_outline(job.blank));
  for (std::size_t i = 0; i < pins.size(); ++i) {
    const mesh::Pin& pin = pins[i].pin;
    if (stands_above_lowest(tool, mesh::circle(pin.centre, pin.radius, "pin"))) continue;
    CaseWarning doubt = problem_at(job, {fmt::format("blank.pin[{}].at", i + 1)});
    doubt.found = fmt::format("a pin at ({:.6g}, {:.6g}) mm with nothing of the tool half under it",
                              pin.centre.x(), pin.centre.y());
    doubt.allowed = "a pin that stands on the tool half";
    doubt.mend =
        "nothing holds it there, and in the computation it keeps back sheet that folds down: move pin and "
        "hole over the tool half";
    doubts.push_back(doubt);
  }
}

void doubt_resting(const Case& job, const mesh::ToolSurface& tool, std::vector<CaseWarning>& doubts) {
  if (job.blank.rim_held) return;
  const mesh::PlacedOutline outline = mesh::place_outline(job.blank);
  const auto resting = mesh::find_resting(tool, job.blank, mesh::resting_level(outline, tool));
  if (!resting) return;
  const bool tips = resting->outside > tip_share * outline.smaller_extent;
  const bool on_tip = resting->across() < tip_share * outline.smaller_extent;
  if (!tips && !on_tip) return;
  CaseWarning doubt = problem_at(job, {"blank.place", outline_key(job)});
  doubt.allowed = "a blank that the tool half supports on all sides of its centroid";
  if (tips) {
    doubt.found = fmt::format(
        "a blank whose centroid, at ({:.4g}, {:.4g}) mm, lies {:.3g} mm outside of all that it rests on",
        resting->centroid.x(), resting->centroid.y(), resting->outside);
    doubt.mend =
        "it tips as it is laid down, pins do not hold it down, and it is not pressed from where it is "
        "computed: move it, or support it";
  } else {
    const Eigen::Vector2d& at = resting->supported.front();
    doubt.found = fmt::format("a blank that rests on a tip of the tool half alone, at ({:.4g}, {:.4g}) mm",
                              at.x(), at.y());
    doubt.mend =
        "it rocks until the pressure presses it down, in the computation too: support it, or move it";
  }
  doubts.push_back(doubt);
}

/// Extent in plan and height; nothing of a shape that cannot be built on its own.
std::optional<Box> box_of(const mesh::ToolShape& shape) {
  mesh::ToolSpec spec;
  spec.shape = shape;
  spec.tray_floor = false;
  spec.for_measuring = true;
  try {
    const mesh::ToolSurface alone = mesh::make_tool(spec);
    return Box{alone.mesh().nodes.colwise().minCoeff().transpose(),
               alone.mesh().nodes.colwise().maxCoeff().transpose()};
  } catch (const mesh::MeshError&) {
    return std::nullopt;
  }
}

void doubt_inserts(const Case& job, std::vector<CaseWarning>& doubts) {
  const mesh::PlacedOutline blank = mesh::place_outline(job.blank);
  for (std::size_t i = 0; i < job.inserts.size(); ++i) {
    const auto box = box_of(job.inserts[i].shape);
    if (!box) continue;
    const Eigen::Vector2d low = box->low.head<2>(), high = box->high.head<2>();
    if ((low.array() < blank.high.array()).all() && (high.array() > blank.low.array()).all()) continue;
    const std::string table = fmt::format("tool.insert[{}].", i + 1);
    CaseWarning doubt = problem_at(job, {table + "place", table + "step"});
    doubt.found = "an insert " + extent(low, high) + ", beside the blank";
    doubt.allowed = "an insert under the blank, " + extent(blank.low, blank.high);
    doubt.mend = "no part of the blank comes to lie on it: check its place, in mm in the tool's frame";
    doubts.push_back(doubt);
  }
}

std::string trim_key(const TrimLine& trim, std::size_t i) {
  return fmt::format("trim[{}].{}", i + 1, trim.drawing.path.empty() ? "polygon" : "drawing");
}

/// The tool half in plan and what it holds of the sheet, as a whole one.
Box plan_box(const Case& job, const mesh::ToolSurface& tool) {
  Box box;
  for (const int axis : {0, 1}) {
    const mesh::SidesOfPlane sides = mesh::sides_of_plane(tool, axis);
    box.low(axis) = sides.before - job.blank.thickness;
    box.high(axis) = sides.beyond + job.blank.thickness;
    if (!(axis == 0 ? job.blank.symmetric_x : job.blank.symmetric_y)) continue;
    box.high(axis) = std::max(box.high(axis), -box.low(axis));
    box.low(axis) = -box.high(axis);
  }
  return box;
}

/// Lines from above that go through the flat blank beside the tool half, where no folded sheet lies.
void doubt_trims(const Case& job, const ToolSet& set, std::vector<CaseWarning>& doubts) {
  constexpr int press_axis = 2;
  for (std::size_t i = 0; i < job.trims.size(); ++i) {
    const TrimLine& trim = job.trims[i];
    if (trim.along != press_axis) continue;
    const auto named = std::find_if(job.steps.begin(), job.steps.end(), [&](const PressStep& step) {
      return !trim.after_step.empty() && step.name == trim.after_step;
    });
    const bool last = named == job.steps.end();
    const Box box =
        plan_box(job, last ? set.last() : set.in_step(static_cast<std::size_t>(named - job.steps.begin())));
    const Eigen::Vector2d low = box.low.head<2>(), high = box.high.head<2>();
    const auto unmet = find_unmet(trim, low, high);
    if (!unmet) continue;
    CaseWarning doubt = problem_at(job, {trim_key(trim, i)});
    doubt.found = unmet->found + (unmet->beside ? ", beside the tool half" : " over the tool half");
    doubt.allowed = "a line where the formed sheet lies; the tool half reaches " + extent(low, high) +
                    ", with the sheet on its walls";
    doubt.mend =
        "sheet that is folded down no longer lies out there: look where the formed part lies, and draw the "
        "line across it";
    doubts.push_back(doubt);
  }
}

/// Whether a corner of a zone lies on the computed side of the planes of symmetry.
bool reaches_computed_part(const Case& job, std::size_t zone) {
  const auto& corners = job.friction_zones[zone].corners;
  return std::any_of(corners.begin(), corners.end(), [&](const Eigen::Vector2d& corner) {
    const Eigen::Vector2d at = job.blank.place + Eigen::Rotation2Dd(job.blank.turn) * corner;
    return !(job.blank.symmetric_x && at.x() <= 0) && !(job.blank.symmetric_y && at.y() <= 0);
  });
}

}  // namespace

std::vector<CaseWarning> setup_doubts(const Case& job, const ToolSet& set) {
  std::vector<CaseWarning> doubts = size_doubts(job, set);
  doubt_pins(job, set.tools.front(), doubts);
  doubt_resting(job, set.tools.front(), doubts);
  doubt_inserts(job, doubts);
  doubt_trims(job, set, doubts);
  for (const CaseWarning& doubt : symmetry_doubts(job, set)) doubts.push_back(doubt);
  return doubts;
}

std::vector<std::string> tool_doubts(const Case& job, const ToolSet& set) {
  std::vector<std::string> doubts;
  for (std::size_t i = 0; i < set.tools.size(); ++i) {
    const std::string from = set.tools.size() > 1 ? " from step " + step_name(job, set.first_step_on(i)) : "";
    for (const std::string& doubt : set.tools[i].doubts)
      doubts.push_back(fmt::format("tool half{}: {}", from, doubt));
  }
  return doubts;
}

std::vector<CaseWarning> zone_doubts(const Case& job, const mesh::Blank& blank) {
  std::vector<CaseWarning> doubts;
  const std::vector<int> zones = zones_of(job, blank);
  for (std::size_t i = 0; i < job.friction_zones.size(); ++i) {
    if (std::count(zones.begin(), zones.end(), static_cast<int>(i)) > 0 || !reaches_computed_part(job, i))
      continue;
    CaseWarning doubt = problem_at(job, {fmt::format("lubrication.zone[{}].polygon", i + 1)});
    doubt.found = "a zone that no triangle of the blank belongs to";
    doubt.allowed = "a zone with middles of triangles in it that no later zone lies over";
    doubt.mend =
        "it has no effect: make it larger or the mesh finer, move it out of a hole, or put it after the zone "
        "over it";
    doubts.push_back(doubt);
  }
  return doubts;
}

void refuse_blank_off_tool(const Case& job, const ToolSet& set) {
  try {
    (void)mesh::resting_level(mesh::place_outline(job.blank), set.tools.front());
  } catch (const mesh::MeshError& refusal) {
    const std::string message = refusal.what();
    const auto cut = message.rfind("; ");
    CaseProblem problem = problem_at(job, {"blank.place", outline_key(job)});
    problem.found = message.substr(0, cut);
    problem.allowed = "a blank that lies over the tool half";
    problem.mend = cut == std::string::npos ? "move it" : message.substr(cut + 2);
    throw CaseError({problem});
  }
}

void refuse_unmet_trims(const Case& job, const ToolSet& set) {
  if (job.trims.empty()) return;
  const Box part = part_box(job, set);
  std::vector<CaseProblem> problems;
  for (std::size_t i = 0; i < job.trims.size(); ++i) {
    const TrimLine& trim = job.trims[i];
    const Eigen::Vector2d low = seen_along(trim.along, part.low), high = seen_along(trim.along, part.high);
    const auto unmet = find_unmet(trim, low, high);
    if (!unmet) continue;
    const char* const axes[] = {"(y, z)", "(x, z)", "(x, y)"};
    CaseProblem problem = problem_at(job, {trim_key(trim, i)});
    problem.found = unmet->found;
    problem.allowed =
        fmt::format("a line across the formed part, in {} {}", axes[trim.along], extent(low, high));
    problem.mend =
        unmet->beside
            ? "draw it in the tool's frame: z is the press axis, as the tool half stands on the tray"
            : unmet->mend;
    problems.push_back(problem);
  }
  if (!problems.empty()) throw CaseError(problems);
}

}  // namespace halftool::io
