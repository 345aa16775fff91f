#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {

std::vector<Problem> all_problems() {
  return {cantilever_shear()};
}

}  // namespace halftool::verification
