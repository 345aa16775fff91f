#include "tests/verification/viscous_groove.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace halftool::test {
namespace {

void expect_met(const std::vector<LimitStrain>& rows) {
  for (const LimitStrain& row : rows) EXPECT_NEAR(row.value, row.reference, row.tolerance) << row.path;
}

double worst_of(const std::vector<LimitStrain>& rows) {
  double worst = 0;
  for (const LimitStrain& row : rows) worst = std::max(worst, std::abs(row.value - row.reference));
  return worst;
}

TEST(ViscousGroove, TheIntegralIsTheClosedFormsThatAreKnown) {
  constexpr double imperfection = 0.02;
  for (const double m : {0.05, 0.3})
    EXPECT_NEAR(viscous_limit(m, 0, imperfection), -m * std::log(1 - std::pow(1 - imperfection, 1 / m)),
                1e-7);
  for (const double ratio : {-0.5, 0.0, 0.5, 1.0})
    EXPECT_NEAR(viscous_limit(1, ratio, imperfection), newtonian_limit(ratio, imperfection, 0), 1e-7);
}

TEST(ViscousGroove, GroovesAcrossMeetTheIntegralOnAllPaths) {
  expect_met(viscous_grooves_across());
}

TEST(ViscousGroove, AnisotropyMovesTheLimitAsTheIntegralSays) {
  expect_met(viscous_grooves_under_hill());
}

TEST(ViscousGroove, ObliqueGroovesTurnAndShearAsTheClosedFormSays) {
  expect_met(oblique_newtonian_grooves());
}

TEST(ViscousGroove, ErrorsFallNearlyWithTheSquareOfSteps) {
  EXPECT_LT(worst_of(viscous_grooves_across(4)), 0.1 * worst_of(viscous_grooves_across()));
  EXPECT_LT(worst_of(viscous_grooves_under_hill(4)), 0.1 * worst_of(viscous_grooves_under_hill()));
  EXPECT_LT(worst_of(oblique_newtonian_grooves(4)), 0.1 * worst_of(oblique_newtonian_grooves()));
}

}  // namespace
}  // namespace halftool::test
