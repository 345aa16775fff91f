// What the number of points through the thickness costs: see thickness_rules.hpp.
#include "tests/verification/thickness_rules.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/reference_sheets.hpp"
#include "tests/verification/wide_bending.hpp"

namespace halftool::test {
namespace {

TEST(ThicknessRules, IntegratePolynomialsUpToTheirDegree) {
  const auto moment = [](const std::vector<FibrePlace>& places, int power) {
    double sum = 0;
    for (const auto& [zeta, weight] : places) sum += weight * std::pow(2 * zeta, power);
    return sum;
  };
  for (const int n : {3, 7, 11, 31})
    for (const Rule rule : kRules) {
      const auto places = places_of(rule, n);
      const int degree = rule == Rule::gauss     ? 2 * n - 1
                         : rule == Rule::lobatto ? 2 * n - 3
                         : rule == Rule::simpson ? 3
                                                 : 1;
      for (int power = 0; power <= degree; ++power)
        EXPECT_NEAR(moment(places, power), power % 2 == 0 ? 1.0 / (power + 1) : 0, 1e-14)
            << name_of(rule) << ' ' << n << ' ' << power;
      if (n == 3) {
        EXPECT_GT(std::abs(moment(places, degree + 1) * (degree + 2) - 1), 0.05) << name_of(rule);
      }
    }
}

TEST(ThicknessRules, GaussErrorsWithLinearStrainAreTheIndependentOnes) {
  for (const auto& row : kGaussMomentPercent)
    EXPECT_NEAR(100 * gauss_moment_error(static_cast<int>(row[0])), row[1], row[0] < 25 ? 0.08 : 0.02)
        << row[0];
}

TEST(ThicknessRules, GaussErrorsOfTheSectionAreNotLarger) {
  // In logarithmic strain the neutral line leaves the middle point (by t^2/(4R)), which moves the kinks
  // between the points and makes the errors a little smaller.
  const double reference = bend_and_release({perfect(), 1, 10}).moment;
  for (const auto& row : kGaussMomentPercent) {
    const double percent =
        100 * (bend_section(perfect(), 1, 10, static_cast<int>(row[0])).moment / reference - 1);
    EXPECT_GT(percent, row[1]) << row[0];
    EXPECT_LT(percent, 0) << row[0];
  }
}

TEST(ThicknessRules, StudyForetellsTheSectionsError) {
  // The same rule in the solver's section and in the fibre stack: their springback differs by the section's
  // net force alone, 0.01 (t/R)^2 (wide_bending_test), and by the implicit update.
  for (const int n : {7, 11}) {
    const FibreBend bend{soft_aluminium(), 1, 10};
    const double foretold = springback_by(bend, Rule::gauss, n);
    EXPECT_GT(std::abs(foretold / bend_and_release(bend).springback - 1), 1e-3) << n;
    EXPECT_NEAR(bend_section(soft_aluminium(), 1, 10, n).springback / foretold, 1, 3e-4) << n;
  }
}

}  // namespace
}  // namespace halftool::test
