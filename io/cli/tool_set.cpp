#include "io/cli/tool_set.hpp"

#include <algorithm>
#include <chrono>

#include "io/cli/job_steps.hpp"

namespace halftool::io {

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
    mesh::ToolSpec spec = tool_in(job, i);
    spec.for_measuring = for_measuring;
    set.tools.push_back(mesh::make_tool(spec));
  }
  set.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return set;
}

}  // namespace halftool::io
