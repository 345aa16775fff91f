#pragma once
#include "io/case/checks/case_checks.hpp"

namespace halftool::io {

/// Reads the trim lines from their drawings and polygons.
void read_trims(const CheckedCase& checked, Case& into);

}  // namespace halftool::io
