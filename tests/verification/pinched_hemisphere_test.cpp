// Hemisphere with a hole, pulled and pinched: see pinched_hemisphere.hpp.
#include "tests/verification/pinched_hemisphere.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace halftool::test {
namespace {

// 512 irregular triangles. Doubly curved and all but inextensible: a membrane that locks is stiff here.
TEST(PinchedHemisphere, ComesToTheTableSecondOrder) {
  const CurveProblem problem = pinched_hemisphere();
  const LoadCurve coarse = problem.run({8, 1});
  const LoadCurve fine = problem.run({16, 1});
  for (const int column : {0, 1}) {
    const double miss_8 = largest_miss(coarse, problem.table, column).error;
    const double miss_16 = largest_miss(fine, problem.table, column).error;
    RecordProperty("miss_8_" + std::to_string(column), std::to_string(miss_8));
    RecordProperty("miss_16_" + std::to_string(column), std::to_string(miss_16));
    EXPECT_LT(std::abs(miss_16), 0.04);
    EXPECT_LT(std::abs(miss_16), 0.5 * std::abs(miss_8));
  }
}

}  // namespace
}  // namespace halftool::test
