#pragma once
#include <string>
#include <vector>

#include "solver/assessment/estimate.hpp"

namespace halftool::io {

/// The estimates for a person, lines of at most 100 columns: each value with its unit and band, the formula,
/// the numbers put in, what stands behind it and what it leaves out.
std::string print_estimates(const std::vector<solver::EstimateGroup>& groups);

}  // namespace halftool::io
