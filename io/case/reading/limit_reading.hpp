#pragma once
#include "io/case/checks/case_checks.hpp"

namespace halftool::io {

/// Reads the points of a measured forming limit from their file, and lets the measured or computed limit
/// judge the part where the case does not say what does. What is wrong with the file is reported with its own
/// lines.
void read_limit(const CheckedCase& checked, Case& into);

/// Computes the forming limit that the case asks for. The sheet must be sound.
/// @throws CaseError  a curve that the metal does not give
void compute_limit(Case& into, const std::map<std::string, int>& lines);

}  // namespace halftool::io
