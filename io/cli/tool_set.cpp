#include "io/cli/tool_set.hpp"

#include <algorithm>
#include <chrono>

#include "io/case/key_path.hpp"
#include "io/cli/job_steps.hpp"

namespace halftool::io {
namespace {

struct Refusal {
  std::string key, message;
};

std::string shape_key(const mesh::ToolShape& shape) {
  if (std::holds_alternative<mesh::StraightBlock>(shape)) return "tool.block";
  if (std::holds_alternative<mesh::CylinderBlock>(shape)) return "tool.cylinder";
  if (std::holds_alternative<mesh::RoundCavity>(shape)) return "tool.cavity";
  return std::holds_alternative<mesh::StlShape>(shape) ? "tool.stl" : "tool.step";
}

std::string refusal_of(const mesh::ToolSpec& spec) {
  try {
    (void)mesh::make_tool(spec);
  } catch (const mesh::MeshError& error) {
    return error.what();
  }
  return "";
}

/// Builds a tool half that was refused again, insert by insert, to find the one at which it fails.
Refusal find_refusal(const Case& job, std::size_t step, const std::string& whole) {
  mesh::ToolSpec spec = job.tool;
  spec.for_measuring = true;
  std::string message = refusal_of(spec);
  if (!message.empty()) return {shape_key(spec.shape), message};
  const std::vector<std::string> standing = inserts_in(job, step);
  for (std::size_t i = 0; i < job.inserts.size(); ++i) {
    if (std::find(standing.begin(), standing.end(), job.inserts[i].name) == standing.end()) continue;
    spec.inserts.push_back(job.inserts[i].shape);
    message = refusal_of(spec);
    if (!message.empty()) return {"tool.insert[" + std::to_string(i + 1) + "].step", message};
  }
  return {shape_key(spec.shape), whole};
}

/// The refusal at its key; what stands behind its last semicolon is the mend.
CaseError case_error(const Case& job, const Refusal& refusal) {
  CaseProblem problem;
  problem.file = job.file.string();
  problem.key = refusal.key;
  // Of a table no line is kept, but of the keys in it.
  const auto entry = job.given.lower_bound(refusal.key);
  if (entry != job.given.end() && is_within(entry->first, refusal.key)) problem.line = entry->second;
  const auto cut = refusal.message.rfind("; ");
  problem.found = refusal.message.substr(0, cut);
  problem.allowed = refusal.key.rfind("tool.insert", 0) == 0
                        ? "an insert that can be built with the tool half that it stands beside"
                        : "a tool half that can be built";
  problem.mend = cut == std::string::npos ? "correct it where it was drawn" : refusal.message.substr(cut + 2);
  return CaseError({problem});
}

mesh::ToolSurface make(const Case& job, std::size_t step, bool for_measuring) {
  mesh::ToolSpec spec = tool_in(job, step);
  spec.for_measuring = for_measuring;
  try {
    return mesh::make_tool(spec);
  } catch (const mesh::MeshError& refusal) {
    throw case_error(job, find_refusal(job, step, refusal.what()));
  }
}

}  // namespace

double ToolSet::peak_on(const Case& job, std::size_t tool) const {
  double peak = 0;
  for (std::size_t i = 0; i < job.steps.size(); ++i)
    if (of_step[i] == static_cast<int>(tool)) peak = std::max(peak, job.steps[i].schedule.back().pressure);
  return peak;
}

std::size_t ToolSet::first_step_on(std::size_t tool) const {
  return static_cast<std::size_t>(std::find(of_step.begin(), of_step.end(), static_cast<int>(tool)) -
                                  of_step.begin());
}

std::string step_name(const Case& job, std::size_t step) {
  const std::string& name = job.steps[step].name;
  return name.empty() ? std::to_string(step + 1) : "\"" + name + "\"";
}

ToolSet make_tools(const Case& job, bool for_measuring) {
  const auto start = std::chrono::steady_clock::now();
  ToolSet set;
  std::vector<std::vector<std::string>> standing;  // of each tool
  for (std::size_t i = 0; i < job.steps.size(); ++i) {
    const std::vector<std::string> inserts = inserts_in(job, i);
    const auto same = std::find(standing.begin(), standing.end(), inserts);
    set.of_step.push_back(static_cast<int>(same - standing.begin()));
    if (same != standing.end()) continue;
    standing.push_back(inserts);
    set.tools.push_back(make(job, i, for_measuring));
  }
  set.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return set;
}

}  // namespace halftool::io
