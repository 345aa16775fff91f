#include "io/cli/job_steps.hpp"

#include <Eigen/Geometry>
#include <algorithm>

#include "mesh/outline_piece.hpp"

namespace halftool::io {
namespace {

bool stands(const Case& job, const ToolInsert& insert, std::size_t step) {
  if (insert.last_step.empty()) return true;
  const auto last = std::find_if(job.steps.begin(), job.steps.end(),
                                 [&](const PressStep& s) { return s.name == insert.last_step; });
  return step <= static_cast<std::size_t>(last - job.steps.begin());
}

/// Friction coefficient of each triangle; empty without zones.
Eigen::VectorXd friction_by_zone(const Case& job, const mesh::Blank& blank) {
  if (job.friction_zones.empty()) return {};
  const std::vector<int> zones = zones_of(job, blank);
  Eigen::VectorXd mu = Eigen::VectorXd::Constant(blank.mesh.n_triangles(), job.press.tool_friction);
  for (std::size_t t = 0; t < zones.size(); ++t)
    if (zones[t] >= 0)
      mu(static_cast<Eigen::Index>(t)) = job.friction_zones[static_cast<std::size_t>(zones[t])].mu;
  return mu;
}

}  // namespace

std::vector<int> zones_of(const Case& job, const mesh::Blank& blank) {
  std::vector<int> zones(static_cast<std::size_t>(blank.mesh.n_triangles()), -1);
  const Eigen::Rotation2Dd to_blank(-job.blank.turn);
  for (int t = 0; t < blank.mesh.n_triangles(); ++t) {
    Eigen::Vector2d middle = Eigen::Vector2d::Zero();
    for (int i = 0; i < 3; ++i)
      middle += blank.mesh.nodes.row(blank.mesh.triangles(t, i)).head<2>().transpose() / 3;
    const Eigen::Vector2d at = to_blank * (middle - job.blank.place);
    for (std::size_t i = 0; i < job.friction_zones.size(); ++i)
      if (mesh::is_inside(job.friction_zones[i].corners, at))
        zones[static_cast<std::size_t>(t)] = static_cast<int>(i);
  }
  return zones;
}

std::vector<std::string> inserts_in(const Case& job, std::size_t step) {
  std::vector<std::string> names;
  for (const ToolInsert& insert : job.inserts)
    if (stands(job, insert, step)) names.push_back(insert.name);
  return names;
}

mesh::ToolSpec tool_in(const Case& job, std::size_t step) {
  mesh::ToolSpec spec = job.tool;
  for (const ToolInsert& insert : job.inserts)
    if (stands(job, insert, step)) spec.inserts.push_back(insert.shape);
  return spec;
}

std::vector<solver::PressSpec> press_specs(const Case& job, const mesh::Blank& blank) {
  std::vector<solver::PressSpec> specs;
  for (const PressStep& step : job.steps) {
    solver::PressSpec spec = job.press;
    spec.schedule = step.schedule;
    spec.friction_of = friction_by_zone(job, blank);
    specs.push_back(spec);
  }
  return specs;
}

}  // namespace halftool::io
