#include "tests/verification/groove_necking.hpp"

#include <gtest/gtest.h>

namespace halftool::test {
namespace {

void expect_met(const std::vector<LimitStrain>& rows) {
  for (const LimitStrain& row : rows) EXPECT_NEAR(row.value, row.reference, row.tolerance) << row.path;
}

TEST(GrooveNecking, PlaneStrainIsExact) {
  expect_met(grooves_in_plane_strain());
}

TEST(GrooveNecking, VanishingGrooveGivesHillsLocalNeckAndNeverMore) {
  const auto rows = grooves_that_vanish();
  expect_met(rows);
  for (const LimitStrain& row : rows) EXPECT_LT(row.value, row.reference) << row.path;
}

TEST(GrooveNecking, LeftOfPlaneStrainTheThinningIsThatOfPlaneStrain) {
  const auto rows = grooves_of_equal_thinning();
  expect_met(rows);
  for (const LimitStrain& row : rows) EXPECT_LT(row.value, row.reference) << row.path;
}

TEST(GrooveNecking, BiaxialLimitsAreThoseOfASecondProgram) {
  expect_met(grooves_in_biaxial_tension());
}

TEST(GrooveNecking, NormalPressureBetweenFlatFacesRaisesTheLimitByTheForce) {
  expect_met(grooves_under_pressure());
}

}  // namespace
}  // namespace halftool::test
