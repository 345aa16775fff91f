#include "solver/kinematics/triangle_rise.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "tests/support/finite_difference.hpp"
#include "tests/support/triangle_samples.hpp"

namespace {

using namespace halftool::solver;
using namespace halftool::test;
using Eigen::Vector3d;

class TriangleRise : public ::testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, TriangleRise, ::testing::Range(1u, 11u));

TEST_P(TriangleRise, CurrentTriangleIsMeasuredFromItsPositions) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  const CurrentTriangle t = current_triangle(s.reference.sign, s.state);
  const Eigen::Matrix3d& x = s.state.positions;
  for (int i = 0; i < 3; ++i) {
    const Vector3d tail = x.col((i + 1) % 3);
    const Vector3d edge = x.col((i + 2) % 3) - tail;
    const Vector3d foot = tail + t.foot(i) * edge;
    EXPECT_NEAR((x.col(i) - foot).dot(edge), 0, 1e-14);
    EXPECT_LT((foot - x.col(i) - t.height(i) * t.outward.col(i)).norm(), 1e-14);
    EXPECT_NEAR(0.5 * t.length(i) * t.height(i), t.area, 1e-14);
    EXPECT_LT((t.tangent.col(i) - edge.normalized()).norm(), 1e-15);
    EXPECT_NEAR(t.normal.dot(edge), 0, 1e-14);
  }
}

TEST_P(TriangleRise, TurnTakesTheMidSideNormalToTheTriangleNormal) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  const CurrentTriangle t = current_triangle(s.reference.sign, s.state);
  for (int i = 0; i < 3; ++i) {
    const EdgeFrame carried = transport(s.state.frames[i], s.reference.sign(i) * t.tangent.col(i));
    const Vector3d mid_side = mid_side_normal(carried, s.state.turn(i));
    const Vector3d turned = Eigen::AngleAxisd(t.turn(i), t.tangent.col(i)) * mid_side;
    EXPECT_LT((turned - t.normal).norm(), 1e-14);
  }
}

TEST_P(TriangleRise, BarycentricGradientsAreDualToTheEdges) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  const Eigen::Matrix3d gradients = barycentric_gradients(current_triangle(s.reference.sign, s.state));
  const Eigen::Matrix3d& x = s.state.positions;
  for (int a = 0; a < 3; ++a) {
    EXPECT_NEAR(gradients.col(a).dot(x.col(a) - x.col((a + 1) % 3)), 1, 1e-13);
    EXPECT_NEAR(gradients.col(a).dot(x.col((a + 1) % 3) - x.col((a + 2) % 3)), 0, 1e-13);
  }
}

// Minus the spin of the director about the edge between the direct carriage to two neighbouring directions.
TEST_P(TriangleRise, HolonomyIsWhatTheCarriedDirectorLosesInSpin) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  const CurrentTriangle t = current_triangle(s.reference.sign, s.state);
  for (int i = 0; i < 3; ++i) {
    const EdgeFrame committed{s.reference.sign(i) * s.state.frames[i].tangent, s.state.frames[i].director};
    const Vector3d edge = t.length(i) * t.tangent.col(i);
    const EdgeFrame here = transport(committed, t.tangent.col(i));
    const Eigen::MatrixXd spin = difference_jacobian(
        [&](const Eigen::VectorXd& e) -> Eigen::VectorXd {
          const Vector3d there = transport(committed, e.normalized()).director;
          const Vector3d unspun = transport(here, e.normalized()).director;
          return Eigen::VectorXd::Constant(1, unspun.cross(there).dot(e.normalized()));
        },
        edge, Vector3d::Constant(1e-3));
    EXPECT_LT((spin.transpose() + t.holonomy.col(i)).norm(), 1e-9);
  }
}

TEST_P(TriangleRise, GradientsAndHessianMatchDifferences) {
  TriangleSampler sampler(GetParam());
  const TriangleSample s = sampler.sample();
  const auto at = [&](const Eigen::VectorXd& u) {
    TriangleVector all = unknowns(s.state);
    all.head<kRiseUnknowns>() = u;
    return current_triangle(s.reference.sign, with_unknowns(s.state, all));
  };
  const Eigen::VectorXd u = unknowns(s.state).head<kRiseUnknowns>();
  const Eigen::VectorXd steps = Eigen::VectorXd::Constant(kRiseUnknowns, 1e-3);
  const Vector3d weight = sampler.vector(1);

  const Eigen::MatrixXd first = difference_jacobian(
      [&](const Eigen::VectorXd& v) -> Eigen::VectorXd { return at(v).height.cwiseProduct(at(v).turn); }, u,
      steps);
  const Eigen::MatrixXd second = difference_jacobian(
      [&](const Eigen::VectorXd& v) -> Eigen::VectorXd { return rise_gradients(at(v)) * weight; }, u, steps);

  EXPECT_LT(relative_difference(rise_gradients(at(u)).transpose(), first), 1e-8);
  const RiseMatrix hessian = rise_hessian(at(u), weight);
  EXPECT_LT(relative_difference(hessian, second), 1e-8);
  EXPECT_LT(relative_difference(hessian, hessian.transpose()), 1e-13);
}

}  // namespace
