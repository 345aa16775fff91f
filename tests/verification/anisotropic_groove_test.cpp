#include "tests/verification/anisotropic_groove.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::test {
namespace {

TEST(AnisotropicGroove, LimitsAreThoseOfASecondProgram) {
  const auto rows = grooves_of_anisotropic_sheets();
  EXPECT_EQ(rows.size(), 80U);
  for (const LimitStrain& row : rows) EXPECT_NEAR(row.value, row.reference, row.tolerance) << row.path;
}

}  // namespace
}  // namespace halftool::test
