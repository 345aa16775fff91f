#include "io/cli/sheets_verb.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <limits>

#include "io/case/variants.hpp"
#include "io/cli/job_limit.hpp"
#include "io/cli/run_folder.hpp"
#include "io/cli/run_variants.hpp"
#include "io/cli/sheet_facts.hpp"
#include "io/figures/variant_chart.hpp"
#include "io/report/cautions.hpp"

namespace halftool::io {
namespace {

/// "share of the forming limit 14.1 to 62.6 %"; empty where no run has the value.
std::string range_words(const std::string& name, const std::string& unit, const std::vector<double>& values) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const double value : values)
    if (!std::isnan(value)) {
      low = std::min(low, value);
      high = std::max(high, value);
    }
  return low > high ? "" : fmt::format(" · {} {:.3g} to {:.3g} {}", name, low, high, unit);
}

/// How far the runs lie apart.
std::string finding(const std::vector<VariantRow>& rows) {
  std::vector<double> springback, share;
  for (const VariantRow& row : rows) {
    for (const auto& [flange, angle] : row.springback) springback.push_back(angle);
    share.push_back(100 * row.forming_share());
  }
  return fmt::format("{} runs over one tool half", rows.size()) +
         range_words("springback", "deg", springback) + range_words("share of the forming limit", "%", share);
}

/// The worst grades stand beside each sheet; what all sheets share stands in the foot.
void draw(const std::filesystem::path& folder, const Case& job, const std::vector<VariantRow>& rows) {
  if (!job.outputs.pictures) return;
  draw_variants(
      folder / "sheets.png",
      {job.title, finding(rows),
       fmt::format("springback: released minus formed, below zero the flange opens · friction {:.2f}, "
                   "assumed as given · forming limit of the own sheet: {}; of the others as named beside "
                   "them; share: the larger of straight path and path taken · {} layers",
                   job.press.tool_friction, limit_credential(job), job.settings.layers) +
           (job.material.strain_rate ? " · own sheet: " + rate_words(job.material) : "")},
      rows);
}

}  // namespace

int run_sheets(const SheetsOptions& options) {
  std::vector<CaseVariant> variants = sheet_variants(options.case_file);
  if (variants.size() == 1)
    throw CaseError(
        {{options.case_file.string(), 0, "sheet.other", "nothing", "one table [[sheet.other]] or more",
          "add the other thicknesses or stocks that are to be pressed over this tool half"}});
  std::cerr << print_warnings(variants);
  for (CaseVariant& variant : variants)
    if (options.threads >= 0) variant.job.settings.threads = options.threads;
  VariantOptions runs{options.folder, "sheets", options.replace, options.quiet};
  if (runs.folder.empty())
    runs.folder = std::filesystem::current_path() / (options.case_file.stem().string() + ".halftool-sheets");
  const auto rows = run_variants(variants, runs);
  draw(runs.folder, variants.front().job, rows);
  if (!options.quiet) {
    std::cout << fmt::format("{}: {} sheets over one tool half\n\n", variants.front().job.title,
                             variants.size())
              << print_variants(rows) << "\nCautions\n";
    for (const std::string& caution : cautions()) std::cout << "  - " << caution << '\n';
    std::cout << "\ntable and runs in " << full_name(runs.folder).string() << '\n';
  }
  return worst_exit_code(rows);
}

}  // namespace halftool::io
