#pragma once
#include <vector>

#include "benchmarks/verification/problem.hpp"

namespace halftool::verification {

// Each in the file of its name, in the order of the results.
Problem scordelis_lo();
Problem linear_hemisphere();
Problem linear_cylinder();
Problem twisted_beam();
Problem curved_beam();
Problem cantilever_shear();
Problem clamped_plate();
Problem membrane_limit();

/// Every problem of the suite.
std::vector<Problem> all_problems();

}  // namespace halftool::verification
