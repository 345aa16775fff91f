#pragma once
#include <vector>

#include "benchmarks/verification/problem.hpp"

namespace halftool::verification {

// Each in the file of its name, in the order of the results.
Problem cantilever_shear();
Problem bulge();
Problem elliptical_bulge();
Problem corner_fill();
Problem capstan();
Problem stretch_bend();
Problem normal_stress();
Problem flange_springback();

/// Every problem of the suite.
std::vector<Problem> all_problems();

}  // namespace halftool::verification
