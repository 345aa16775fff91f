#include "io/cli/setup_checks.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "mesh/outline.hpp"

namespace halftool::io {
namespace {

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

}  // namespace

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
