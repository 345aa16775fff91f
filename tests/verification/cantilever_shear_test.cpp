// Cantilever under a dead shear force at its end, on irregular triangles: see cantilever_shear.hpp.
#include "tests/verification/cantilever_shear.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace halftool::test {
namespace {

class CantileverShear : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, CantileverShear, testing::Values(1U, 2U));

// 32 by 4 divisions: measured below 0.5 percent.
TEST_P(CantileverShear, FollowsTheTableWithinOnePercent) {
  const double miss = worst_miss(bend_cantilever(32, GetParam()));
  RecordProperty("worst_miss", std::to_string(miss));
  EXPECT_LT(miss, 0.01);
}

// Quadratic: curvature is constant in an element, so its error is linear and that of the deflection quadratic
// in the element size.
TEST_P(CantileverShear, ConvergesQuadraticallyToTheElastica) {
  const double exact = kCantileverLength * elastica_deflection(kCantileverForce);
  const double coarse = bend_cantilever(16, GetParam()).back().deflection / exact - 1;
  const double fine = bend_cantilever(32, GetParam()).back().deflection / exact - 1;
  const double order = std::log2(coarse / fine);
  RecordProperty("error_16", std::to_string(coarse));
  RecordProperty("error_32", std::to_string(fine));
  RecordProperty("order", std::to_string(order));
  EXPECT_NEAR(order, 2, 0.3);
}

}  // namespace
}  // namespace halftool::test
