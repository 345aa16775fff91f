#pragma once
#include "io/case/case.hpp"
#include "io/case/checks/case_checks.hpp"

namespace halftool::io {

/// Reads the drawing or the STEP file that holds the blank's outline, if there is one, and puts the outline
/// into the case. What is wrong with it and what is doubtful is reported at its keys.
void read_outline(const CheckedCase& checked, Case& into);

/// A blank whose unevenness has a pattern but no size is as uneven as is usual for its thickness.
void choose_flatness(Case& into);

}  // namespace halftool::io
