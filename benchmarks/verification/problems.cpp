#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {

std::vector<Problem> all_problems() {
  return {cantilever_shear(), bulge(),        elliptical_bulge(), corner_fill(),
          capstan(),          stretch_bend(), normal_stress(),    flange_springback()};
}

}  // namespace halftool::verification
