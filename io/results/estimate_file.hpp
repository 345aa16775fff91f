#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "solver/assessment/estimate.hpp"

namespace halftool::io {

/// The estimates of a case, tool half by tool half.
struct EstimateFile {
  struct OnTool {
    double pressure = 0;  ///< greatest that it meets [MPa]
    std::vector<solver::EstimateGroup> groups;
  };
  std::string case_title, case_file;
  std::string credential;  ///< where the constants come from
  std::vector<OnTool> tools;
  std::vector<std::string> cautions;
};

/// Writes JSON: `format`, `halftool_version`, `case`, `credential`, `tools` (each `pressure_mpa`, `groups` of
/// `name`, `estimates`, `not_found`), `cautions`. An estimate has `what`, `value` and `against` (`name`,
/// `value`, `unit`; a value of null is without bound), `band` (two numbers or null), `passed`, `formula`,
/// `inputs`, `evidence`, `source`, `at_mm` (null: of the whole sheet), `note`.
/// @throws WriteError
void write_estimates(const std::filesystem::path& path, const EstimateFile& file);

}  // namespace halftool::io
