#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "benchmarks/verification/problem.hpp"

namespace halftool::verification {

/// A problem with what it gave.
struct Result {
  Problem problem;
  Report report;
  double seconds = 0;
  std::string failure;  ///< why it gave nothing; empty: it ran
};

/// The table of every row, a heading a group, as Markdown.
/// @param commit    what was run; printed as it is
/// @param left_out  names of the suite's problems that were not run
std::string to_markdown(const std::vector<Result>& results, const std::string& commit,
                        const std::vector<std::string>& left_out);

/// The same as JSON: {"commit", "problems": [{"name", "rows": [...], ...}]}.
std::string to_json(const std::vector<Result>& results, const std::string& commit);

/// Writes NAME.png: lines for what was computed, dots for the reference.
/// @throws io::WriteError
void draw_chart(const std::filesystem::path& folder, const Chart& chart, const std::string& source);

}  // namespace halftool::verification
