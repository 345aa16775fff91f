// Hemisphere under two pairs of radial forces: see pinched_hemisphere.hpp.
#include "tests/verification/linear_hemisphere.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace halftool::test {
namespace {

class HoledHemisphere : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, HoledHemisphere, testing::Values(0U, 1U, 2U));

// Measured: -0.1 to -0.3 percent.
TEST_P(HoledHemisphere, AgreesWithinOnePercent) {
  const double error = hemisphere_displacement(true, 32, GetParam()) / kHoledHemisphere - 1;
  RecordProperty("error", std::to_string(error));
  EXPECT_LT(std::abs(error), 0.01);
}

TEST(ClosedHemisphere, AgreesWithinOnePercent) {
  const double coarse = hemisphere_displacement(false, 16, 0) / kClosedHemisphere - 1;
  const double fine = hemisphere_displacement(false, 32, 0) / kClosedHemisphere - 1;
  RecordProperty("error_32", std::to_string(fine));
  EXPECT_LT(std::abs(fine), 0.01);
  EXPECT_NEAR(std::log2(coarse / fine), 2, 0.4);
}

// Irregular triangles lock in this almost inextensional bending until their size is small against sqrt(R t) =
// 0.63: measured -2.9 to -3.8 percent with elements of 0.49, -0.8 to -1.1 with half of that.
TEST(ClosedHemisphere, LockingOfIrregularTrianglesFades) {
  const double coarse = hemisphere_displacement(false, 32, 2) / kClosedHemisphere - 1;
  const double fine = hemisphere_displacement(false, 64, 2) / kClosedHemisphere - 1;
  RecordProperty("error_32", std::to_string(coarse));
  RecordProperty("error_64", std::to_string(fine));
  EXPECT_LT(std::abs(fine), 0.01);
  EXPECT_LT(std::abs(fine), 0.5 * std::abs(coarse));
}

}  // namespace
}  // namespace halftool::test
