#pragma once
#include <vector>

#include "benchmarks/verification/problem.hpp"

namespace halftool::verification {

// Each in the file of its name, in the order of the results.
Problem cantilever_shear();
Problem cantilever_moment();
Problem slit_ring();
Problem pinched_hemisphere();
Problem pulled_cylinder();
Problem pinched_cylinder();
Problem hinged_panel();
Problem membrane();

/// Every problem of the suite.
std::vector<Problem> all_problems();

}  // namespace halftool::verification
