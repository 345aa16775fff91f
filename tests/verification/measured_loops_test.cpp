#include "tests/verification/measured_loops.hpp"

#include <gtest/gtest.h>

namespace halftool::test {
namespace {

// DP780's reversal is what its published constants make of it; benchmarks/verification says what is missed.
TEST(MeasuredLoops, AreMetWithinAFewPercentOfTheLargestStress) {
  const auto loops = measured_loops();
  const std::vector<std::vector<double>> allowed = {{0.03, 0.08}, {0.03, 0.03, 0.03}};
  for (std::size_t k = 0; k < loops.size(); ++k) {
    const auto misses = leg_misses(loops[k], 1e-3);
    for (std::size_t i = 0; i < misses.size(); ++i)
      EXPECT_LT(misses[i], allowed[k].at(i)) << loops[k].name << ": " << loops[k].leg_names[i];
  }
}

// With the same tension curve.
TEST(MeasuredLoops, AreMissedByMoreWithIsotropicHardening) {
  for (const MeasuredLoop& loop : measured_loops()) {
    MeasuredLoop isotropic = loop;
    isotropic.material.isotropic = true;
    EXPECT_GT(leg_misses(isotropic, 1e-3).at(1), leg_misses(loop, 1e-3).at(1) + 0.04) << loop.name;
  }
}

}  // namespace
}  // namespace halftool::test
