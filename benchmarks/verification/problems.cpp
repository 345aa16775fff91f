#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {

std::vector<Problem> all_problems() {
  return {cantilever_shear(), point_paths(),  textbook_plasticity(),
          squeezed_block(),   wide_bending(), thickness_rules()};
}

}  // namespace halftool::verification
