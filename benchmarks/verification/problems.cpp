#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {

std::vector<Problem> all_problems() {
  return {scordelis_lo(), linear_hemisphere(), linear_cylinder(), twisted_beam(),
          curved_beam(),  cantilever_shear(),   clamped_plate(),    membrane_limit()};
}

}  // namespace halftool::verification
