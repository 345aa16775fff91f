// What the tool bears under a sheet on a cylinder, against balance of an arc, q Ri = p Ro + N: see
// borne_contact.hpp. Own arithmetic, closed form.
#include "tests/verification/borne_contact.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/verification/drawn_strip.hpp"
#include "tests/verification/wrap_strip.hpp"

namespace halftool::test {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

TEST(BorneContact, TensionPressesEvenlyInARegularMesh) {
  Capstan setup;
  setup.friction = 0;
  setup.wrap = 120 * kDegree;
  setup.seed = 0;
  const BorneContact contact = wrap_contact(setup, {-45 * kDegree, 45 * kDegree, 10 * kDegree});
  EXPECT_EQ(contact.parts.size(), 9U);
  for (const BornePart& part : contact.parts) {
    EXPECT_NEAR(part.triangles, 1, 0.002) << part.angle;
    EXPECT_NEAR(part.nodes, 1, 0.002) << part.angle;
  }
  EXPECT_LT(contact.single, 0.01);
}

// Single triangles scatter by more than the mean, wide parts hold.
TEST(BorneContact, TensionHoldsOverWideParts) {
  Capstan setup;
  setup.friction = 0;
  setup.wrap = 120 * kDegree;
  for (const BornePart& part : wrap_contact(setup, {-45 * kDegree, 45 * kDegree, 10 * kDegree}).wide_parts)
    EXPECT_NEAR(part.triangles, 1, 0.04) << part.angle;
}

TEST(BorneContact, FluidIsCarriedOn) {
  WrapSetup setup;
  setup.material = {"", "", "", 71000, 0.33, solver::SwiftHardening{576.79, 0.01658, 0.3593}};
  setup.thickness = 0.81;
  setup.pressure = 100;
  const BorneContact contact = pressed_contact(setup, {5 * kDegree, 55 * kDegree, 8 * kDegree});
  for (const BornePart& part : contact.wide_parts) EXPECT_NEAR(part.triangles, 1, 0.03) << part.angle;
  EXPECT_LT(contact.empty, 0.05);
}

}  // namespace
}  // namespace halftool::test
