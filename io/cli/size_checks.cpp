#include "io/cli/size_checks.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>

#include "io/case/checks/case_checks.hpp"
#include "mesh/outline.hpp"

namespace halftool::io {
namespace {

/// Extent of what stands on the tray floor [mm].
Eigen::Vector3d size_of(const mesh::ToolSurface& tool) {
  const mesh::Points& nodes = tool.mesh().nodes;
  const double floor = nodes.col(2).minCoeff();
  const double above = floor + 1e-6 * (nodes.col(2).maxCoeff() - floor);
  Eigen::AlignedBox3d box;
  for (Eigen::Index i = 0; i < nodes.rows(); ++i)
    if (nodes(i, 2) >= above) box.extend(Eigen::Vector3d(nodes.row(i)));
  box.min().z() = floor;
  return box.sizes();
}

}  // namespace

std::vector<CaseWarning> size_doubts(const Case& job, const ToolSet& set) {
  if (!std::holds_alternative<mesh::StepShape>(job.tool.shape)) return {};
  const Eigen::Vector3d size = size_of(set.tools.front());
  const std::string text =
      fmt::format("a tool half of {:.4g} x {:.4g} x {:.4g} mm", size.x(), size.y(), size.z());
  if (!usual_tool_size.holds(size.maxCoeff())) {
    CaseWarning doubt = problem_at(job, {"tool.step"});
    doubt.found = text;
    doubt.allowed = "usually 5 mm to 5 m";
    doubt.mend = "export it again with its true unit of length: the file says how long its units are";
    return {doubt};
  }
  const mesh::PlacedOutline blank = mesh::place_outline(job.blank);
  const double ratio = (blank.high - blank.low).maxCoeff() / size.maxCoeff();
  if (!unlike_in_size(ratio)) return {};
  CaseWarning doubt = problem_at(job, {outline_key(job)});
  doubt.found = fmt::format("a blank {:.3g} times as large as the tool half, beside {}", ratio, text);
  doubt.allowed = "a blank that fits the tool half";
  doubt.mend = "mixed inches and millimetres? Check the units of both";
  return {doubt};
}

}  // namespace halftool::io
