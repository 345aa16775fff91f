#pragma once
#include <string>
#include <vector>

#include "solver/assessment/screen.hpp"

namespace halftool::io {

/// The screens for a person, lines of at most 100 columns: which ran, which tripped, and for each finding the
/// numbers, the formula, the place and a caution.
/// @param prefix  of every line ("# " in a case file)
std::string print_screens(const std::vector<solver::Screen>& screens, const std::string& prefix);

}  // namespace halftool::io
