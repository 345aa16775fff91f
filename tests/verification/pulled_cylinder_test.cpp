// Cylinder with free ends, pulled: see pulled_cylinder.hpp.
#include "tests/verification/pulled_cylinder.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace halftool::test {
namespace {

// 512 irregular triangles on the octant, through the change from bending to membrane.
TEST(PulledCylinder, FollowsTheTableAwayFromItsSnap) {
  const CurveProblem problem = pulled_cylinder();
  const LoadCurve curve = problem.run({16, 1});
  for (const int column : {0, 1, 2}) {
    const Miss miss =
        largest_miss(curve, problem.table, column, 0, [](double share) { return !near_snap(share); });
    RecordProperty("miss_" + std::to_string(column), std::to_string(miss.error));
    EXPECT_LT(std::abs(miss.error), 0.03) << "at the share " << miss.share;
  }
}

}  // namespace
}  // namespace halftool::test
