// The middle of the curved triangle.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "solver/kinematics/shell_triangle.hpp"
#include "tests/support/exact_surface.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/triangle_samples.hpp"

namespace {

using namespace halftool;
using namespace halftool::solver;
using namespace halftool::test;
using Eigen::Vector3d;

MiddlePoint middle(const TriangleReference& reference, const TriangleState& state) {
  return middle_point(reference, state, triangle_strain(reference, state));
}
struct Distance {
  double flat = 0;    // of centroids
  double curved = 0;  // of middle points
};

// Largest distance from a cylinder that one irregular sheet is laid on.
Distance distance_from_cylinder(double radius, bool curved_reference) {
  const auto sheet = irregular_rectangle(2, 1.5, 8, 8, 5);
  const auto bent = states_on(sheet, cylinder(radius));
  const auto references =
      references_of(sheet, curved_reference ? bent : states_on(sheet, plane()), Vector3d(1, 0.5, 0));
  Distance largest;
  const auto off = [radius](const Vector3d& x) {
    return std::abs(std::hypot(x.x(), x.z() - radius) - std::abs(radius));
  };
  for (std::size_t t = 0; t < bent.size(); ++t) {
    largest.flat = std::max(largest.flat, off(bent[t].positions.rowwise().mean()));
    largest.curved = std::max(largest.curved, off(middle(references[t], bent[t]).position));
  }
  return largest;
}

// Order q in the element size h means h^q/R^(q-1) on the same mesh.
TEST(MiddlePoint, LiesOnACylinderToFourthOrder) {
  for (const double radius : {2.0, -2.0})
    for (const bool curved_reference : {false, true}) {
      const Distance near = distance_from_cylinder(radius, curved_reference);
      const Distance far = distance_from_cylinder(4 * radius, curved_reference);
      EXPECT_NEAR(1 + std::log2(near.curved / far.curved) / 2, 4, 0.1) << "radius " << radius;
      EXPECT_NEAR(1 + std::log2(near.flat / far.flat) / 2, 2, 0.1);
      EXPECT_LT(near.curved, 0.02 * near.flat);
    }
}

TEST(MiddlePoint, IsHighWhereTheSurfaceCurlsAwayFromItsNormal) {
  const auto sheet = irregular_rectangle(2, 1, 4, 2, 5);
  const auto references = references_of(sheet, states_on(sheet, plane()), Vector3d::UnitX());
  const auto away = states_on(sheet, cylinder(-2));
  for (std::size_t t = 0; t < away.size(); ++t) EXPECT_GT(middle(references[t], away[t]).height, 0);
}

// In an infinitesimal rigid motion, with frames at the current edges, a turn grows by the rotation about its
// edge.
TEST(MiddlePoint, FollowsRigidMotions) {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    TriangleSampler sampler(seed);
    const TriangleSample s = sampler.sample();
    const TriangleState state = accepted(s.state, s.reference.sign);
    const Vector3d shift = sampler.vector(1);
    const Vector3d spin = sampler.vector(1);
    TriangleVector motion = TriangleVector::Zero();
    for (int i = 0; i < 3; ++i) {
      motion.segment<3>(3 * i) = shift + spin.cross(Vector3d(state.positions.col(i)));
      motion(9 + i) = spin.dot(state.frames[i].tangent);
    }
    const MiddlePoint point = middle(s.reference, state);
    const Vector3d expected = shift + spin.cross(point.position);
    EXPECT_LT((point.gradient * motion - expected).norm(), 1e-13);
  }
}

}  // namespace
