// Mid-side points and enclosed volume: what the curved triangle adds to the flat one.
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

MidSidePoints mid_sides(const TriangleReference& reference, const TriangleState& state) {
  return mid_side_points(reference, state, triangle_strain(reference, state));
}
TriangleVolume volume(const TriangleReference& reference, const TriangleState& state) {
  return enclosed_volume(reference, state, triangle_strain(reference, state));
}

struct Distance {
  double flat = 0;    // of edge middles
  double curved = 0;  // of mid-side points
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
    const Eigen::Matrix3d points = mid_sides(references[t], bent[t]).points;
    for (int i = 0; i < 3; ++i) {
      const Vector3d middle = 0.5 * (bent[t].positions.col((i + 1) % 3) + bent[t].positions.col((i + 2) % 3));
      largest.flat = std::max(largest.flat, off(middle));
      largest.curved = std::max(largest.curved, off(points.col(i)));
    }
  }
  return largest;
}

// Order q in the element size h means h^q/R^(q-1) on the same mesh.
TEST(MidSidePoints, LieOnACylinderToFourthOrder) {
  for (const double radius : {2.0, -2.0})
    for (const bool curved_reference : {false, true}) {
      const Distance near = distance_from_cylinder(radius, curved_reference);
      const Distance far = distance_from_cylinder(4 * radius, curved_reference);
      EXPECT_NEAR(1 + std::log2(near.curved / far.curved) / 2, 4, 0.1) << "radius " << radius;
      EXPECT_NEAR(1 + std::log2(near.flat / far.flat) / 2, 2, 0.1);
      EXPECT_LT(near.curved, 0.02 * near.flat);
    }
}

TEST(MidSidePoints, SagittaIsPositiveWhereTheSurfaceCurlsAwayFromItsNormal) {
  const auto sheet = irregular_rectangle(2, 1, 4, 2, 5);
  const auto references = references_of(sheet, states_on(sheet, plane()), Vector3d::UnitX());
  const auto away = states_on(sheet, cylinder(-2));
  for (std::size_t t = 0; t < away.size(); ++t) EXPECT_GT(mid_sides(references[t], away[t]).sagitta.sum(), 0);
}

// In an infinitesimal rigid motion, with frames at the current edges, a turn grows by the rotation about its
// edge.
TEST(MidSidePoints, FollowRigidMotions) {
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
    const MidSidePoints mid = mid_sides(s.reference, state);
    for (int i = 0; i < 3; ++i) {
      const Vector3d expected = shift + spin.cross(Vector3d(mid.points.col(i)));
      EXPECT_LT((mid.gradient[i] * motion - expected).norm(), 1e-13);
    }
  }
}

// Error of the volume of a sphere meshed with nodes and mid-side normals exact, relative.
double volume_error(int levels, bool bulged) {
  const double radius = 3;
  const mesh::SurfaceMesh skin = sphere(radius, levels);
  const auto states = states_on(
      skin, {[](const Vector3d& x) { return x; }, [](const Vector3d& x) { return x.normalized().eval(); }});
  double sum = 0;
  for (const TriangleState& state : states) {
    const Eigen::Matrix3d& x = state.positions;
    if (!bulged) sum += x.col(0).dot(x.col(1).cross(x.col(2))) / 6;
  }
  if (bulged) {
    const auto references = references_of(skin, states, Vector3d(1, 2, 3));
    for (std::size_t t = 0; t < states.size(); ++t) sum += volume(references[t], states[t]).value;
  }
  return sum / (4.0 / 3 * std::numbers::pi * std::pow(radius, 3)) - 1;
}

TEST(EnclosedVolume, OfASphereConvergesToFourthOrder) {
  EXPECT_LT(volume_error(2, false), -0.05);
  EXPECT_LT(std::abs(volume_error(2, true)), 0.1 * std::abs(volume_error(2, false)));
  EXPECT_NEAR(std::log2(volume_error(3, true) / volume_error(4, true)), 4, 0.2);
  EXPECT_NEAR(std::log2(volume_error(3, false) / volume_error(4, false)), 2, 0.1);
}

// Uniform pressure on a closed surface: no resultant, and its work in an expansion is p times dV =
// 3 V.
TEST(EnclosedVolume, GradientIsTheLoadOfAUniformPressure) {
  const mesh::SurfaceMesh skin = sphere(1, 2);
  const auto states = states_on(
      skin, {[](const Vector3d& x) { return x; }, [](const Vector3d& x) { return x.normalized().eval(); }});
  const auto references = references_of(skin, states, Vector3d(1, 2, 3));
  Vector3d force = Vector3d::Zero();
  double expansion = 0;
  double total = 0;
  for (std::size_t t = 0; t < states.size(); ++t) {
    const TriangleVolume part = volume(references[t], states[t]);
    total += part.value;
    for (int a = 0; a < 3; ++a) {
      const Vector3d on_node = part.gradient.segment<3>(3 * a);
      force += on_node;
      expansion += on_node.dot(states[t].positions.col(a));
    }
  }
  EXPECT_LT(force.norm(), 1e-13);
  EXPECT_NEAR(expansion, 3 * total, 1e-12);
}

TEST(EnclosedVolume, GrowsWhenTheTriangleMovesAlongItsNormal) {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const TriangleSample s = TriangleSampler(seed).sample();
    TriangleState moved = s.state;
    const Eigen::Matrix3d& x = s.state.positions;
    const Vector3d area = 0.5 * (x.col(1) - x.col(0)).cross(x.col(2) - x.col(0));
    moved.positions.colwise() += area.normalized();
    const double growth = volume(s.reference, moved).value - volume(s.reference, s.state).value;
    EXPECT_NEAR(growth, area.norm() / 3,
                1e-12);  // the cone to the origin grows by a third of area times height
  }
}

}  // namespace
