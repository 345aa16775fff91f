// Closed forms: a power law necks at n and at (1 + r) n less its pre-strain, Voce's where the exponential
// term has fallen to its share.
#include "tests/verification/edge_neck.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::test {
namespace {

TEST(EdgeNeck, OfAPowerLawIsItsExponentAndTwiceThat) {
  solver::SheetMaterial sheet;
  sheet.hardening = solver::SwiftHardening{343.3, 0.0015, 0.184};
  const EdgeNeck neck = edge_neck(sheet);
  EXPECT_NEAR(neck.diffuse, 0.184 - 0.0015, 1e-6);
  EXPECT_NEAR(neck.local, 2 * 0.184 - 0.0015, 1e-6);
}

TEST(EdgeNeck, LiesInTheDirectionOfTheLeastRValue) {
  solver::SheetMaterial sheet;
  sheet.hardening = solver::HollomonHardening{326.8, 0.226, 72};
  sheet.yield = solver::RValues{0.65, 0.83, 0.60};
  const double start = std::pow(72 / 326.8, 1 / 0.226);
  EXPECT_NEAR(edge_neck(sheet).local, 1.60 * 0.226 - start, 1e-6);
  sheet.yield = solver::RValues{1.79, 1.51, 2.27};  // least at 40 degrees
  const EdgeNeck neck = edge_neck(sheet);
  EXPECT_LT(neck.r, 1.51);
  EXPECT_GT(neck.r, 1.49);
  EXPECT_NEAR(neck.local, (1 + neck.r) * 0.226 - start, 1e-6);
}

TEST(EdgeNeck, OfVocesLawIsWhereItsSlopeFallsToTheShareOfTheStress) {
  solver::SheetMaterial sheet;
  sheet.hardening = solver::VoceHardening{102.75, 292.14, 13.5};
  const EdgeNeck neck = edge_neck(sheet);
  const double gap = (292.14 - 102.75) / 292.14;
  EXPECT_NEAR(neck.diffuse, std::log(gap * (1 + 13.5)) / 13.5, 1e-6);
  EXPECT_NEAR(neck.local, std::log(gap * (1 + 2 * 13.5)) / 13.5, 1e-6);
}

TEST(EdgeNeck, IsNotGuessedForAnotherYieldCondition) {
  solver::SheetMaterial sheet;
  sheet.hardening = solver::SwiftHardening{343.3, 0.0015, 0.184};
  sheet.yield = solver::Yld2000{};
  EXPECT_THROW(edge_neck(sheet), std::invalid_argument);
}

}  // namespace
}  // namespace halftool::test
