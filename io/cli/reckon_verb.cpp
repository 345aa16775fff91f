#include "io/cli/reckon_verb.hpp"

#include <fmt/format.h>

#include <chrono>
#include <iostream>

#include "io/cli/check.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/job_summary.hpp"
#include "io/cli/reckoning.hpp"
#include "io/cli/tool_set.hpp"
#include "io/report/cautions.hpp"
#include "io/report/estimate_text.hpp"
#include "io/results/estimate_file.hpp"

namespace halftool::io {

int run_reckon(const Case& job, const ReckonOptions& options) {
  print_warnings(job.warnings);
  const ToolSet set = make_tools(job, true);
  const auto start = std::chrono::steady_clock::now();
  const double level = resting_level(job, set.tools.front());
  EstimateFile file;
  file.case_title = job.title;
  file.case_file = job.file.filename().string();
  file.credential = credential(job);
  file.cautions = cautions();
  for (std::size_t i = 0; i < set.tools.size(); ++i) {
    const double pressure = set.peak_on(job, i);
    file.tools.push_back({pressure, reckon_case(job, ToolSurvey(job, set.tools[i], level), pressure)});
  }
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();

  std::cout << fmt::format("{}: estimates by hand formulas, nothing solved\n", job.title)
            << fmt::format("  {}, {:.4g} mm\n", job.material.name, job.blank.thickness);
  if (job.stock && !job.stock->caution.empty())
    std::cout << "  caution of the stock: " << job.stock->caution << '\n';
  for (std::size_t i = 0; i < file.tools.size(); ++i) {
    if (file.tools.size() > 1) std::cout << fmt::format("\nTool half {} of {}\n", i + 1, file.tools.size());
    std::cout << print_estimates(file.tools[i].groups);
  }
  std::cout << "\nCautions\n";
  for (const std::string& caution : file.cautions) std::cout << "  - " << caution << '\n';
  std::cout << '\n'
            << file.credential << '\n'
            << fmt::format("took {:.1f} s for the tool half, {:.1f} s to measure it and reckon\n",
                           set.seconds, seconds);
  if (!options.json.empty()) write_estimates(options.json, file);
  return as_int(ExitCode::done);
}

}  // namespace halftool::io
