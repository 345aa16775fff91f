#include "io/cli/setup_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "io/case/checks/case_checks.hpp"
#include "io/cli/size_checks.hpp"
#include "mesh/highest_point.hpp"
#include "mesh/outline.hpp"
#include "mesh/pins.hpp"
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

int line_of(const Case& job, const std::string& key) {
  const auto entry = job.given.find(key);
  return entry == job.given.end() ? 0 : entry->second;
}

std::string extent(const Eigen::Vector2d& low, const Eigen::Vector2d& high) {
  return fmt::format("({:.6g}, {:.6g}) to ({:.6g}, {:.6g})", low.x(), low.y(), high.x(), high.y());
}

/// A doubt at the first of the keys that is given.
CaseWarning doubt_at(const Case& job, const std::vector<std::string>& keys) {
  const auto given =
      std::find_if(keys.begin(), keys.end(), [&](const auto& key) { return line_of(job, key) > 0; });
  const std::string& key = given == keys.end() ? keys.front() : *given;
  CaseWarning doubt;
  doubt.file = job.file.string();
  doubt.line = line_of(job, key);
  doubt.key = key;
  return doubt;
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
    CaseWarning doubt = doubt_at(job, {fmt::format("blank.pin[{}].at", i + 1)});
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
  CaseWarning doubt = doubt_at(job, {"blank.place", outline_key(job)});
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
    CaseWarning doubt = doubt_at(job, {table + "place", table + "step"});
    doubt.found = "an insert from " + extent(low, high) + ", beside the blank";
    doubt.allowed = "an insert under the blank, from " + extent(blank.low, blank.high);
    doubt.mend = "no part of the blank comes to lie on it: check its place, in mm in the tool's frame";
    doubts.push_back(doubt);
  }
}

}  // namespace

std::vector<CaseWarning> setup_doubts(const Case& job, const ToolSet& set) {
  std::vector<CaseWarning> doubts = size_doubts(job, set);
  doubt_pins(job, set.tools.front(), doubts);
  doubt_resting(job, set.tools.front(), doubts);
  doubt_inserts(job, doubts);
  for (const CaseWarning& doubt : symmetry_doubts(job, set)) doubts.push_back(doubt);
  return doubts;
}

void refuse_unmet_trims(const Case& job, const ToolSet& set) {
  if (job.trims.empty()) return;
  const Box part = part_box(job, set);
  std::vector<CaseProblem> problems;
  for (std::size_t i = 0; i < job.trims.size(); ++i) {
    const TrimLine& trim = job.trims[i];
    Eigen::Vector2d low = trim.line.outer.front().start, high = low;
    mesh::grow_box(trim.line.outer, low, high);
    const Eigen::Vector2d part_low = seen_along(trim.along, part.low);
    const Eigen::Vector2d part_high = seen_along(trim.along, part.high);
    if ((low.array() < part_high.array()).all() && (high.array() > part_low.array()).all()) continue;
    const char* const axes[] = {"(y, z)", "(x, z)", "(x, y)"};
    const std::string key =
        fmt::format("trim[{}].{}", i + 1, trim.drawing.path.empty() ? "polygon" : "drawing");
    problems.push_back(
        {job.file.string(), line_of(job, key), key, "a trim line from " + extent(low, high),
         fmt::format("a line across the formed part, in {} from {}", axes[trim.along],
                     extent(part_low, part_high)),
         "draw it in the tool's frame: z is the press axis, as the tool half stands on the tray"});
  }
  if (!problems.empty()) throw CaseError(problems);
}

}  // namespace halftool::io
