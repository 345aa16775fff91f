#include "io/cli/run_variants.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <exception>
#include <iostream>

#include "io/cli/job_limit.hpp"
#include "io/cli/run.hpp"
#include "io/cli/run_folder.hpp"

namespace halftool::io {
namespace {

/// "2-DP600--1-mm": the number keeps folders apart and in order.
std::string folder_of(std::size_t index, const std::string& label) {
  std::string name = label;
  std::replace_if(
      name.begin(), name.end(),
      [](unsigned char c) { return c > 127 || (std::isalnum(c) == 0 && c != '.' && c != '_'); }, '-');
  return fmt::format("{}-{}", index + 1, name);
}

VariantRow failed_row(const CaseVariant& variant, const std::string& folder, const std::string& reason) {
  VariantRow row;
  row.label = variant.label;
  row.folder = folder;
  row.outcome = "failed";
  row.reason = reason;
  row.material = variant.job.material.name;
  row.thickness = variant.job.blank.thickness;
  return row;
}

std::string limit_kind_of(const Case& job) {
  const FormingLimit limit = job.limits.forming_limit;
  return limit == FormingLimit::none ? "none" : limit_kind(limit);
}

VariantRow run_one(const CaseVariant& variant, const std::string& folder,
                   const std::shared_ptr<const ToolSet>& tools, const VariantOptions& options) {
  try {
    const Summary summary =
        press_case(variant.job, tools,
                   {.folder = options.folder / folder, .replace = options.replace, .quiet = options.quiet});
    return variant_row(variant.label, folder, summary, variant.job.limits.thinning);
  } catch (const std::exception& error) {
    return failed_row(variant, folder, error.what());
  }
}

}  // namespace

std::vector<VariantRow> run_variants(const std::vector<CaseVariant>& variants,
                                     const VariantOptions& options) {
  std::vector<std::string> folders;
  folders.reserve(variants.size());
  for (const CaseVariant& variant : variants) folders.push_back(folder_of(folders.size(), variant.label));
  for (const std::string& folder : folders) require_run_folder(options.folder / folder, options.replace);
  const auto tools = std::make_shared<const ToolSet>(make_tools(variants.front().job));
  std::vector<VariantRow> rows;
  for (std::size_t i = 0; i < variants.size(); ++i) {
    if (!options.quiet)
      std::cerr << fmt::format("run {} of {}: {}\n", i + 1, variants.size(), variants[i].label);
    rows.push_back(run_one(variants[i], folders[i], tools, options));
    rows.back().hardening =
        solver::hardens_kinematically(variants[i].job.material) ? "kinematic" : "isotropic";
    rows.back().grade = variants[i].job.material.grade;
    rows.back().limit_kind = limit_kind_of(variants[i].job);
    std::filesystem::create_directories(options.folder);
    write_variants(options.folder, options.table, variants.front().job.title, rows);
    if (!rows.back().is_complete()) std::cerr << variants[i].label << ": " << rows.back().reason << '\n';
    if (rows.back().outcome == outcome_word(Outcome::stopped)) break;
  }
  return rows;
}

int worst_exit_code(const std::vector<VariantRow>& rows) {
  const auto any = [&](Outcome outcome) {
    return std::any_of(rows.begin(), rows.end(),
                       [&](const VariantRow& row) { return row.outcome == outcome_word(outcome); });
  };
  if (any(Outcome::stopped)) return as_int(ExitCode::stopped);
  if (std::any_of(rows.begin(), rows.end(), [](const VariantRow& row) { return !row.is_complete(); }))
    return as_int(ExitCode::not_completed);
  return as_int(any(Outcome::limit_passed) ? ExitCode::limit_passed : ExitCode::done);
}

}  // namespace halftool::io
