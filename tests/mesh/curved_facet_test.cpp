#include "mesh/curved_facet.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

/// Facet of a sphere of radius 10 about the origin.
CurvedFacet sphere_facet(double size) {
  CurvedFacet facet;
  const std::array<Vector3d, 3> directions{Vector3d(0, 0, 1), Vector3d(size, 0.1 * size, 1),
                                           Vector3d(0.2 * size, size, 1)};
  for (std::size_t i = 0; i < 3; ++i) {
    facet.normal[i] = directions[i].normalized();
    facet.corner[i] = 10 * facet.normal[i];
  }
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
    facet.middle[i] = smooth_edge_control(facet.corner[j], facet.normal[j], facet.corner[k], facet.normal[k]);
  }
  return facet;
}

TEST(CurvedFacet, SlopesMatchFiniteDifferences) {
  const CurvedFacet facet = sphere_facet(0.3);
  const Vector3d b(0.3, 0.45, 0.25);
  const double step = 1e-6;
  const auto slopes = facet.point_slopes(b);
  const auto normal_slopes = facet.normal_slopes(b);
  for (int i = 0; i < 2; ++i) {
    Vector3d db = Vector3d::Zero();
    db(0) = -step;
    db(i + 1) = step;
    const Vector3d point = (facet.point(b + db) - facet.point(b - db)) / (2 * step);
    const Vector3d normal = (facet.unit_normal(b + db) - facet.unit_normal(b - db)) / (2 * step);
    EXPECT_LT((slopes.col(i) - point).norm(), 1e-8);
    EXPECT_LT((normal_slopes.col(i) - normal).norm(), 1e-9);
  }
}

TEST(CurvedFacet, ErrorOnASphereFallsWithTheCubeOfItsSizeAtLeast) {
  const Vector3d middle = Vector3d::Constant(1.0 / 3);
  const double coarse = std::abs(sphere_facet(0.2).point(middle).norm() - 10);
  const double fine = std::abs(sphere_facet(0.1).point(middle).norm() - 10);
  EXPECT_LT(fine, 2e-5);
  EXPECT_GT(coarse / fine, 8);
}

TEST(SmoothEdge, ArcIsMetToTheFourthOrder) {
  // The quadratic through an arc's ends with its end tangents errs by R angle^4 / 128 at the middle [own
  // derivation].
  for (const double angle : {0.2, 0.1, 0.05}) {
    const Vector3d a(-std::sin(angle / 2), 0, std::cos(angle / 2));
    const Vector3d b(std::sin(angle / 2), 0, std::cos(angle / 2));
    const Vector3d middle = 0.25 * a + 0.5 * smooth_edge_control(a, a, b, b) + 0.25 * b;
    EXPECT_NEAR((middle.norm() - 1) / (std::pow(angle, 4) / 128), 1, 0.01);
  }
}

TEST(SmoothEdge, IsTheSameFromBothEnds) {
  const Vector3d a(0, 0, 0), b(1, 0.2, -0.1);
  const Vector3d na = Vector3d(0.1, 0.05, 1).normalized(), nb = Vector3d(0.3, -0.1, 1).normalized();
  EXPECT_LT((smooth_edge_control(a, na, b, nb) - smooth_edge_control(b, nb, a, na)).norm(), 1e-15);
}

TEST(SmoothEdge, IsStraightAlongACylinderAndBoundedAtAnInflection) {
  const Vector3d up(0, 0, 1);
  EXPECT_LT((smooth_edge_control({0, 0, 0}, up, {50, 0, 0}, up) - Vector3d(25, 0, 0)).norm(), 1e-15);
  // Nearly equal normals that are not square to the chord: the plain least-norm answer would be 500 chords
  // away.
  const Vector3d tilted = Vector3d(1e-4, 0, 1).normalized();
  const Vector3d control = smooth_edge_control({0, 0, 0}, up, {1, 0, 0.1}, tilted);
  EXPECT_LT((control - Vector3d(0.5, 0, 0.05)).norm(), 0.11);
}

TEST(SharpEdge, FollowsTheArcWhereAFilletMeetsAFlatEnd) {
  const double angle = 0.1;
  const Vector3d a(0, 0, 1), b(std::sin(angle), 0, std::cos(angle));
  const Vector3d side(0, 1, 0);
  const Vector3d control = sharp_edge_control(a, {a, side}, b, {b, side});
  EXPECT_LT((control - smooth_edge_control(a, a, b, b)).norm(), 1e-12);
}

TEST(SharpEdge, BetweenTwoPlanesIsStraight) {
  const Vector3d a(0, 0, 0), b(0, 2, 0), up(0, 0, 1), front(1, 0, 0);
  EXPECT_LT((sharp_edge_control(a, {up, front}, b, {up, front}) - Vector3d(0, 1, 0)).norm(), 1e-14);
}

}  // namespace
}  // namespace halftool::mesh
