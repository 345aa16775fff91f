#include "solver/contact/pin_force.hpp"

#include <gtest/gtest.h>

#include "tests/support/finite_difference.hpp"

namespace halftool::solver {
namespace {

const mesh::Pin kPin{{3, -1}, 2};

TEST(PinForce, IsNoneClearOfThePin) {
  EXPECT_TRUE(pin_force(kPin, {5.01, -1}, 1000).force.isZero(0));
  EXPECT_TRUE(pin_force(kPin, {5.01, -1}, 1000).stiffness.isZero(0));
}

TEST(PinForce, PushesAwayFromTheAxisByItsDepth) {
  const Eigen::Vector2d force = pin_force(kPin, {4.9, -1}, 1000).force;
  EXPECT_NEAR(force.x(), 100, 1e-9);
  EXPECT_NEAR(force.y(), 0, 1e-9);
}

TEST(PinForce, StiffnessMatchesFiniteDifference) {
  const Eigen::Vector2d at(4.2, -0.1);
  const auto force = [](const Eigen::VectorXd& x) -> Eigen::VectorXd {
    return pin_force(kPin, x.head<2>(), 1000).force;
  };
  const Eigen::MatrixXd jacobian = test::difference_jacobian(force, at, Eigen::VectorXd::Constant(2, 1e-4));
  EXPECT_LT(test::relative_difference(-jacobian, pin_force(kPin, at, 1000).stiffness), 1e-8);
}

}  // namespace
}  // namespace halftool::solver
