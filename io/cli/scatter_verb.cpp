#include "io/cli/scatter_verb.hpp"

#include <fmt/format.h>

#include <iostream>

#include "io/cli/check.hpp"
#include "io/cli/job_summary.hpp"
#include "io/cli/run_folder.hpp"
#include "io/cli/run_variants.hpp"
#include "io/cli/scatter_design.hpp"
#include "io/figures/effect_chart.hpp"
#include "io/report/cautions.hpp"

namespace halftool::io {
namespace {

void write(const std::filesystem::path& folder, const Case& job,
           const std::vector<ScatteredResult>& results) {
  write_effects(folder, results);
  if (results.empty() || !job.outputs.pictures) return;
  draw_effects(folder / "effects.png",
               {job.title, "mean at the low and the high end of each factor", credential(job)}, results);
}

}  // namespace

int run_scatter(Case job, const SheetsOptions& options) {
  if (options.threads >= 0) job.settings.threads = options.threads;
  const TwoLevelDesign design = scatter_design(job);
  if (design.factors.empty())
    throw CaseError({{options.case_file.string(), 0, "scatter", "nothing that varies",
                      "one or more of thickness, strength, exponent, friction",
                      "add [scatter] with the range of each, either way"}});
  print_warnings(job.warnings);
  VariantOptions runs{options.folder, "scatter", options.replace, options.quiet};
  if (runs.folder.empty())
    runs.folder = std::filesystem::current_path() / (options.case_file.stem().string() + ".halftool-scatter");
  const auto rows = run_variants(scatter_variants(job, design), runs);
  const auto results = scattered_results(design, rows);
  write(runs.folder, job, results);
  if (!options.quiet) {
    std::cout << fmt::format("{}: {} runs over its scatter\n\n", job.title, design.signs.size() + 1)
              << print_variants(rows) << '\n'
              << print_effects(design, results) << "\nCautions\n";
    for (const std::string& caution : cautions()) std::cout << "  - " << caution << '\n';
    std::cout << '\n' << credential(job) << "\ntable and runs in " << full_name(runs.folder).string() << '\n';
  }
  return worst_exit_code(rows);
}

}  // namespace halftool::io
