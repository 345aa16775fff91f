#pragma once
#include <string>

#include "solver/assessment/forming_limit.hpp"

namespace halftool::io {

/// The formula of the estimate at plane strain with what was put in, so that it can be redone by hand; where
/// thickness or exponent counts only up to a cap, that it does.
std::string estimate_formula(const solver::EstimatedLimit& limit);

}  // namespace halftool::io
