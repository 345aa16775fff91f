#pragma once
#include "io/case/checks/case_checks.hpp"

namespace halftool::io {

/// Reads the points of a measured forming limit from their file, and lets the measured or computed limit
/// judge the part where the case does not say what does. What is wrong with the file is reported with its own
/// lines.
void read_limit(const CheckedCase& checked, Case& into);

/// What judges the part where the case does not say: the estimate for low-carbon steel, for other metals the
/// lower of the estimate and a computed curve. The sheet must be sound.
void choose_limit(Case& into);

/// Lets the stock's least bend judge where the case gives no limit of bends.
void choose_bend_limit(Case& into);

}  // namespace halftool::io
