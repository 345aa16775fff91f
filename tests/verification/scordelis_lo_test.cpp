// Cylindrical roof under its own weight: see scordelis_lo.hpp.
#include "tests/verification/scordelis_lo.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace halftool::test {
namespace {

class ScordelisLo : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, ScordelisLo, testing::Values(0U, 1U, 2U));

// Measured: 0.07 to 0.25 percent at 16, 0.03 to 0.06 at 32 divisions.
TEST_P(ScordelisLo, TendsToTheThinShell) {
  const double coarse = roof_deflection(16, GetParam()) / kRoofDeflection - 1;
  const double fine = roof_deflection(32, GetParam()) / kRoofDeflection - 1;
  RecordProperty("error_16", std::to_string(coarse));
  RecordProperty("error_32", std::to_string(fine));
  EXPECT_LT(std::abs(coarse), 0.01);
  EXPECT_LT(std::abs(fine), 0.002);
  EXPECT_LT(std::abs(fine), 0.6 * std::abs(coarse));
}

}  // namespace
}  // namespace halftool::test
