// Cylinder pinched between rigid end plates: see pinched_cylinder.hpp.
#include "tests/verification/pinched_cylinder.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace halftool::test {
namespace {

// 512 and 2048 irregular triangles on the octant, to the load at which the dent has grown to 16 times the
// thickness. The constant-curvature triangle is soft under a point force.
TEST(PinchedCylinder, ComesToTheTableFromAbove) {
  const CurveProblem problem = pinched_cylinder(0.075);
  const double miss_16 = largest_miss(problem.run({16, 1}), problem.table, 0).error;
  const double miss_32 = largest_miss(problem.run({32, 1}), problem.table, 0).error;
  RecordProperty("miss_16", std::to_string(miss_16));
  RecordProperty("miss_32", std::to_string(miss_32));
  EXPECT_LT(std::abs(miss_32), 0.1);
  EXPECT_LT(std::abs(miss_32), std::abs(miss_16));
}

}  // namespace
}  // namespace halftool::test
