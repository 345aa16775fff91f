#include "solver/contact/contact_traction.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>

namespace halftool::solver {
namespace {

constexpr double kRadius = 3.0;

// A cylinder about the y axis, its surface the tool: exact gap, normal and curvature.
ContactPlace on_cylinder(const Eigen::Vector3d& x) {
  const Eigen::Vector3d radial(x.x(), 0, x.z());
  const double distance = radial.norm();
  ContactPlace place;
  place.gap = distance - kRadius;
  place.normal = radial / distance;
  Eigen::Matrix3d in_plane = Eigen::Matrix3d::Identity();
  in_plane(1, 1) = 0;
  place.normal_gradient = (in_plane - place.normal * place.normal.transpose()) / distance;
  return place;
}

ContactTraction at(const ContactLaw& law, const Eigen::Vector3d& x, const Eigen::Vector3d& from,
                   const FrictionState& memory) {
  return contact_traction(law, on_cylinder(x), x - from, memory);
}

// -d traction / d x by central differences.
Eigen::Matrix3d difference_stiffness(const ContactLaw& law, const Eigen::Vector3d& x,
                                     const Eigen::Vector3d& from, const FrictionState& memory) {
  constexpr double kStep = 1e-6;
  Eigen::Matrix3d stiffness;
  for (int c = 0; c < 3; ++c) {
    const Eigen::Vector3d dx = kStep * Eigen::Vector3d::Unit(c);
    stiffness.col(c) =
        (at(law, x - dx, from, memory).traction - at(law, x + dx, from, memory).traction) / (2 * kStep);
  }
  return stiffness;
}

TEST(ContactTraction, VanishesOffTheTool) {
  const ContactLaw law{1e4, 0.1, 0.002};
  const ContactTraction off = at(law, {kRadius + 0.01, 0, 0}, {kRadius, 0, 0}, {});
  EXPECT_EQ(off.traction.norm(), 0);
  EXPECT_EQ(off.stiffness.norm(), 0);
  EXPECT_FALSE(off.state.touching);
}

// What touched is pulled back along the line of the penalty while it stands off by less than asked.
TEST(ContactTraction, KeepsWhatTouchedWithinReachOnly) {
  const ContactLaw law{1e4, 0.1, 0.002, 0.05};
  const FrictionState touched{Eigen::Vector3d::Zero(), true};
  const Eigen::Vector3d x(kRadius + 0.01, 0, 0);
  const ContactTraction kept = at(law, x, x, touched);
  EXPECT_NEAR(kept.pressure, -100, 1e-9);
  EXPECT_NEAR((kept.traction + 100 * Eigen::Vector3d::UnitX()).norm(), 0, 1e-9);
  EXPECT_FALSE(kept.state.touching);
  const Eigen::Matrix3d expected = difference_stiffness(law, x, x, touched);
  EXPECT_LT((kept.stiffness - expected).norm(), 1e-6 * expected.norm());
  EXPECT_EQ(at(law, x, x, {}).traction.norm(), 0);
  const Eigen::Vector3d beyond(kRadius + 0.06, 0, 0);
  EXPECT_EQ(at(law, beyond, beyond, touched).traction.norm(), 0);
}

TEST(ContactTraction, FrictionlessTangentMatchesFiniteDifference) {
  const ContactLaw law{1e4, 0, 0.002};
  const Eigen::Vector3d x(2.1, 0.3, 2.1);
  ASSERT_LT(on_cylinder(x).gap, 0);
  const ContactTraction touch = at(law, x, x, {});
  const Eigen::Matrix3d expected = difference_stiffness(law, x, x, {});
  EXPECT_LT((touch.stiffness - expected).norm(), 1e-6 * expected.norm());
}

// On a flat tool friction's own tangent is exact but for its dependence on the contact pressure, which is
// left out: along the surface it must match, along the normal it must be the penalty alone.
void expect_tangential_tangent(const Eigen::Vector3d& motion) {
  const ContactLaw law{1e4, 0.15, 0.002};
  const ContactPlace flat{-0.003, Eigen::Vector3d::UnitZ(), Eigen::Matrix3d::Zero()};
  const FrictionState memory{Eigen::Vector3d(0.0004, -0.0002, 0), true};
  constexpr double kStep = 1e-8;
  const ContactTraction touch = contact_traction(law, flat, motion, memory);
  for (int c = 0; c < 2; ++c) {
    const Eigen::Vector3d dx = kStep * Eigen::Vector3d::Unit(c);
    const Eigen::Vector3d slope = (contact_traction(law, flat, motion - dx, memory).traction -
                                   contact_traction(law, flat, motion + dx, memory).traction) /
                                  (2 * kStep);
    EXPECT_LT((touch.stiffness.col(c) - slope).norm(), 1e-6 * touch.stiffness.norm());
  }
  EXPECT_DOUBLE_EQ(touch.stiffness(2, 2), law.stiffness);
}

TEST(ContactTraction, StickTangentMatchesFiniteDifference) {
  expect_tangential_tangent({0.0003, 0.0005, 0});
}
TEST(ContactTraction, SlipTangentMatchesFiniteDifference) {
  expect_tangential_tangent({0.05, 0.02, 0});
}

TEST(ContactTraction, SlidingPullsWithTheCoefficientTimesThePressure) {
  const ContactLaw law{1e4, 0.15, 0.002};
  const ContactPlace flat{-0.004, Eigen::Vector3d::UnitZ(), Eigen::Matrix3d::Zero()};
  const ContactTraction touch = contact_traction(law, flat, {1, 0, 0}, {});
  EXPECT_NEAR(touch.pressure, 40, 1e-12);
  EXPECT_NEAR(touch.traction.x(), -6, 1e-12);
  EXPECT_NEAR(touch.dissipation, 6 * (1 - law.slip_limit), 1e-12);
}

// Friction's tangent at rest is that of stick in every direction, whatever rounding makes of the slip.
TEST(ContactTraction, WhatSlidSticksAtRest) {
  const ContactLaw law{1e4, 0.15, 0.002};
  const double stick = law.friction * 20 / law.slip_limit;
  for (int i = 0; i < 100; ++i) {
    const Eigen::Matrix3d turn = Eigen::AngleAxisd(0.7 * i, Eigen::Vector3d(1, 2, -1).normalized()).matrix();
    const Eigen::Vector3d normal = turn.col(2);
    const ContactPlace place{-0.002, normal, Eigen::Matrix3d::Zero()};
    const ContactTraction slid = contact_traction(law, place, 0.01 * turn.col(0), {});
    EXPECT_GT(slid.dissipation, 0);
    const ContactTraction rests = contact_traction(law, place, Eigen::Vector3d::Zero(), slid.state);
    EXPECT_EQ(rests.dissipation, 0);
    EXPECT_LT((rests.traction - slid.traction).norm(), 1e-8 * slid.traction.norm());
    const Eigen::Matrix3d across = normal * normal.transpose();
    const Eigen::Matrix3d expected = law.stiffness * across + stick * (Eigen::Matrix3d::Identity() - across);
    EXPECT_LT((rests.stiffness - expected).norm(), 1e-12 * expected.norm()) << i;
  }
}

TEST(ContactTraction, TurnsWithTheFrame) {
  const ContactLaw law{1e4, 0.15, 0.002};
  const Eigen::Matrix3d turn =
      Eigen::AngleAxisd(0.7, Eigen::Vector3d(1, 2, -1).normalized()).toRotationMatrix();
  const ContactPlace place{-0.002, Eigen::Vector3d(0, 0.6, 0.8), 0.3 * Eigen::Matrix3d::Identity()};
  const ContactPlace turned{place.gap, turn * place.normal, turn * place.normal_gradient * turn.transpose()};
  const Eigen::Vector3d motion(0.01, 0.002, 0.001);
  const FrictionState memory{Eigen::Vector3d(0.001, 0, 0), true};
  const ContactTraction one = contact_traction(law, place, motion, memory);
  const ContactTraction other = contact_traction(law, turned, turn * motion, {turn * memory.slip, true});
  EXPECT_LT((turn * one.traction - other.traction).norm(), 1e-12 * one.traction.norm());
  EXPECT_LT((turn * one.stiffness * turn.transpose() - other.stiffness).norm(), 1e-12 * one.stiffness.norm());
}

}  // namespace
}  // namespace halftool::solver
