#pragma once
#include "io/case/checks/case_checks.hpp"

namespace halftool::io {

/// Reads the points of a measured forming limit from their file, and lets them judge the part where the case
/// does not say what does. What is wrong with the file is reported with its own lines.
void read_limit(const CheckedCase& checked, Case& into);

}  // namespace halftool::io
