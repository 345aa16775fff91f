#include "solver/material/gauss_legendre.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::solver {
namespace {

TEST(GaussLegendre, IntegratesPolynomialsOfDegreeTwoNMinusOneToRounding) {
  for (int n : {1, 2, 3, 4, 5, 7, 9, 11, 12, 15, 25, 64, 99}) {
    const ThicknessRule rule = gauss_legendre(n);
    ASSERT_EQ(rule.zeta.size(), n);
    for (int degree = 0; degree <= std::min(2 * n - 1, 60); ++degree) {
      const double exact = degree % 2 == 1 ? 0 : std::pow(0.5, degree) / (degree + 1);
      const double sum = (rule.weight.array() * rule.zeta.array().pow(degree)).sum();
      EXPECT_NEAR(sum, exact, 2e-14 * std::pow(0.5, degree)) << "n " << n << " degree " << degree;
    }
  }
}

TEST(GaussLegendre, IsNotExactOneDegreeHigher) {
  const ThicknessRule rule = gauss_legendre(3);
  const double sum = (rule.weight.array() * rule.zeta.array().pow(6)).sum();
  EXPECT_GT(std::abs(sum - std::pow(0.5, 6) / 7), 1e-5);
}

TEST(GaussLegendre, PointsAscendInsideAndAreSymmetric) {
  for (int n : {1, 4, 9, 25}) {
    const ThicknessRule rule = gauss_legendre(n);
    EXPECT_LT(rule.zeta.cwiseAbs().maxCoeff(), 0.5);
    EXPECT_GT(rule.weight.minCoeff(), 0);
    for (int i = 0; i < n; ++i) EXPECT_EQ(rule.zeta[i], -rule.zeta[n - 1 - i]);
    for (int i = 1; i < n; ++i) EXPECT_LT(rule.zeta[i - 1], rule.zeta[i]);
  }
}

}  // namespace
}  // namespace halftool::solver
