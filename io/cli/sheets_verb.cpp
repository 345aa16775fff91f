#include "io/cli/sheets_verb.hpp"

#include <fmt/format.h>

#include <iostream>

#include "io/case/variants.hpp"
#include "io/cli/check.hpp"
#include "io/cli/run_folder.hpp"
#include "io/cli/run_variants.hpp"
#include "io/report/cautions.hpp"

namespace halftool::io {

int run_sheets(const SheetsOptions& options) {
  std::vector<CaseVariant> variants = sheet_variants(options.case_file);
  if (variants.size() == 1)
    throw CaseError(
        {{options.case_file.string(), 0, "sheet.other", "nothing", "one table [[sheet.other]] or more",
          "add the other thicknesses or stocks that are to be pressed over this tool half"}});
  print_warnings(variants.front().job);
  for (CaseVariant& variant : variants)
    if (options.threads >= 0) variant.job.settings.threads = options.threads;
  VariantOptions runs{options.folder, "sheets", options.replace, options.quiet};
  if (runs.folder.empty())
    runs.folder = std::filesystem::current_path() / (options.case_file.stem().string() + ".halftool-sheets");
  const auto rows = run_variants(variants, runs);
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
