#include "solver/kinematics/shell_triangle.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <numbers>

#include "tests/support/exact_surface.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/triangle_samples.hpp"

namespace {

using namespace halftool::solver;
using namespace halftool::test;
using Eigen::Matrix2d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using Vector6d = Eigen::Matrix<double, 6, 1>;

double largest(const Eigen::MatrixXd& a) {
  return a.cwiseAbs().maxCoeff();
}

// [11, 22, 2 * 12] of a symmetric tensor seen from axes turned by `angle`.
Vector3d components(const Matrix2d& tensor, double angle) {
  const Matrix2d turned = Eigen::Rotation2Dd(-angle) * tensor * Eigen::Rotation2Dd(angle);
  return {turned(0, 0), turned(1, 1), 2 * turned(0, 1)};
}
Vector3d axis_at(double angle) {
  return {std::cos(angle), std::sin(angle), 0};
}

class ShellTriangle : public ::testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, ShellTriangle, ::testing::Range(1u, 11u));

TEST_P(ShellTriangle, ReferenceDescribesTheTriangle) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  const TriangleReference& r = s.reference;
  for (int i = 0; i < 3; ++i) {
    const Vector2d edge = r.corner.col((i + 2) % 3) - r.corner.col((i + 1) % 3);
    EXPECT_NEAR(edge.norm(), r.length(i), 1e-14);
    EXPECT_NEAR(r.normal.col(i).dot(edge), 0, 1e-14);
    EXPECT_NEAR(r.normal.col(i).norm(), 1, 1e-14);
    EXPECT_NEAR(r.normal.col(i).dot(r.corner.col((i + 1) % 3) - r.corner.col(i)), r.height(i),
                1e-14);  // outward
    EXPECT_NEAR(0.5 * r.length(i) * r.height(i), r.area, 1e-14);
  }
  EXPECT_LT(largest(r.corner.rowwise().sum()), 1e-14);
}

TEST(ShellTriangleReference, FirstAxisFollowsTheGivenDirection) {
  TriangleState state;
  state.positions << 0, 2, 0, 0, 0, 1, 0, 0, 0;
  TriangleSampler::set_frames(Vector3d::Ones(), state);
  state.turn.setZero();

  const TriangleReference r = make_reference(
      state.positions, axis_at(std::numbers::pi / 2) + 3 * Vector3d::UnitZ(), Vector3d::Ones(), state);

  EXPECT_LT(largest(r.corner.col(1) - r.corner.col(0) - Vector2d(0, -2)), 1e-14);  // x lies along the axis -2
  EXPECT_LT(largest(r.corner.col(2) - r.corner.col(0) - Vector2d(1, 0)), 1e-14);
}

TEST(ShellTriangleReference, RefusesNoAreaAndAnAxisAlongTheNormal) {
  TriangleState state;
  state.positions << 0, 2, 0, 0, 0, 1, 0, 0, 0;
  TriangleSampler::set_frames(Vector3d::Ones(), state);
  state.turn.setZero();
  EXPECT_THROW(make_reference(state.positions, Vector3d::UnitZ(), Vector3d::Ones(), state),
               std::invalid_argument);
  state.positions.col(2) = 0.5 * state.positions.col(1);
  EXPECT_THROW(make_reference(state.positions, Vector3d::UnitX(), Vector3d::Ones(), state),
               std::invalid_argument);
}

TEST_P(ShellTriangle, UndeformedCurvedReferenceHasNoStrain) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  EXPECT_LT(largest(triangle_strain(s.reference, s.undeformed).value), 1e-14);
}

TEST_P(ShellTriangle, RigidMotionLeavesStrainUnchanged) {
  TriangleSampler sampler(GetParam());
  const TriangleSample s = sampler.sample();
  const Eigen::Matrix3d rotation = sampler.rotation();
  TriangleState moved = s.state;
  moved.positions = (rotation * moved.positions).colwise() + sampler.vector(100);
  for (EdgeFrame& frame : moved.frames) frame = {rotation * frame.tangent, rotation * frame.director};

  const Vector6d difference =
      triangle_strain(s.reference, moved).value - triangle_strain(s.reference, s.state).value;

  EXPECT_LT(largest(difference), 1e-12);
}

// The frames stay behind, as within an increment: the same mid-side normals seen from carried directors.
TEST_P(ShellTriangle, RigidMotionWithinAnIncrementLeavesStrainUnchanged) {
  TriangleSampler sampler(GetParam());
  const TriangleSample s = sampler.sample();
  const Eigen::Matrix3d rotation = Eigen::AngleAxisd(2.0, sampler.vector(1).normalized()).toRotationMatrix();
  const TriangleState before = accepted(s.state, s.reference.sign);
  TriangleState moved = before;
  moved.positions = rotation * moved.positions;
  for (int i = 0; i < 3; ++i) {
    const EdgeFrame& frame = before.frames[i];
    const Vector3d tangent = rotation * frame.tangent;
    const Vector3d normal = rotation * mid_side_normal(frame, before.turn(i));
    const Vector3d carried = transport(frame, tangent).director;
    moved.turn(i) = std::atan2(carried.cross(normal).dot(tangent), carried.dot(normal));
  }

  const Vector6d difference =
      triangle_strain(s.reference, moved).value - triangle_strain(s.reference, before).value;

  EXPECT_GT(largest(moved.turn - before.turn), 1e-3);  // parallel transport does spin against a rotation
  EXPECT_LT(largest(difference), 1e-12);
}

TEST_P(ShellTriangle, AcceptingAStateLeavesStrainUnchanged) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  const Vector6d difference = triangle_strain(s.reference, accepted(s.state, s.reference.sign)).value -
                              triangle_strain(s.reference, s.state).value;
  EXPECT_LT(largest(difference), 1e-13);
}

TEST_P(ShellTriangle, TransportIsTheSmallestRotation) {
  TriangleSampler sampler(GetParam());
  EdgeFrame frame;
  frame.tangent = sampler.vector(1).normalized();
  frame.director = frame.tangent.cross(sampler.vector(1)).normalized();
  const Vector3d target = sampler.vector(1).normalized();

  const EdgeFrame carried = transport(frame, target);

  EXPECT_NEAR(carried.director.norm(), 1, 1e-15);
  EXPECT_NEAR(carried.director.dot(target), 0, 1e-15);
  const Eigen::Matrix3d smallest =
      Eigen::Quaterniond::FromTwoVectors(frame.tangent, target).toRotationMatrix();
  EXPECT_LT(largest(carried.director - smallest * frame.director), 1e-13);
  EXPECT_LT(largest(transport(carried, frame.tangent).director - frame.director), 1e-13);
}

TEST(ShellTriangleTransport, KeepsTheNormalOfThePlaneThatAnEdgeTurnsIn) {
  const EdgeFrame frame{Vector3d::UnitX(), Vector3d::UnitY()};
  EXPECT_LT(largest(transport(frame, Vector3d(-0.6, 0, 0.8)).director - Vector3d::UnitY()), 1e-15);
}

TEST(ShellTriangleTransport, TurnIsRightHandedAboutTheTangent) {
  const EdgeFrame frame{Vector3d::UnitX(), Vector3d::UnitY()};
  EXPECT_LT(largest(mid_side_normal(frame, std::numbers::pi / 2) - Vector3d::UnitZ()), 1e-15);
}

TEST(ShellTriangleMembrane, AffineDeformationGivesExactGreenLagrangeStrain) {
  const auto sheet = irregular_rectangle(3, 2, 5, 4, 7);
  const double angle = 0.4;
  const auto references = references_of(sheet, states_on(sheet, plane()), axis_at(angle));
  Eigen::Matrix<double, 3, 2> gradient;
  gradient << 1.2, 0.1, -0.2, 0.9, 0.3, 0.1;
  const Vector3d normal = gradient.col(0).cross(gradient.col(1)).normalized();
  const auto states = states_on(sheet, {[&](const Vector3d& x) -> Vector3d { return gradient * x.head<2>(); },
                                        [&](const Vector3d&) { return normal; }});

  const Matrix2d strain = 0.5 * (gradient.transpose() * gradient - Matrix2d::Identity());
  for (std::size_t t = 0; t < references.size(); ++t) {
    const Vector6d value = triangle_strain(references[t], states[t]).value;
    EXPECT_LT(largest(value.head<3>() - components(strain, angle)), 1e-13);
    EXPECT_LT(largest(value.tail<3>()), 1e-13);
  }
}

// Morley's element reproduces every quadratic deflection; the rest is the square of the slope (1e-10).
TEST(ShellTriangleCurvature, QuadraticDeflectionGivesExactConstantCurvature) {
  const auto sheet = irregular_rectangle(3, 2, 6, 5, 3);
  const double angle = 0.7;
  const auto references = references_of(sheet, states_on(sheet, plane()), axis_at(angle));
  for (const Matrix2d& unit :
       {Matrix2d{{1, 0}, {0, 0}}, Matrix2d{{0, 0}, {0, 1}}, Matrix2d{{0, 0.5}, {0.5, 0}}}) {
    const Matrix2d curvature = 1e-5 * unit;
    const auto states =
        states_on(sheet, {[&](const Vector3d& x) -> Vector3d {
                            return {x.x(), x.y(), 0.5 * x.head<2>().dot(curvature * x.head<2>())};
                          },
                          [&](const Vector3d& x) -> Vector3d {
                            const Vector2d slope = curvature * x.head<2>();
                            return Vector3d(-slope.x(), -slope.y(), 1).normalized();
                          }});
    for (std::size_t t = 0; t < references.size(); ++t) {
      const Vector3d value = triangle_strain(references[t], states[t]).value.tail<3>();
      EXPECT_LT(largest(value - components(curvature, angle)), 1e-8 * 1e-5);
    }
  }
}

// A strip rolled without stretch of its chords: chord h over the angle h/R, so that the turns make k = 1/R
// exactly. Every layer is then what a sheet of radius R has: s(1 - z/R).
class RolledStrip : public ::testing::TestWithParam<double> {};
INSTANTIATE_TEST_SUITE_P(BothSides, RolledStrip, ::testing::Values(3.5, -3.5));

TEST_P(RolledStrip, HasExactCurvatureTowardsItsCentre) {
  const double radius = GetParam();
  const double h = 0.9;
  const double angle = 0.3;
  const auto sheet = rectangle(4 * h, 1, 4, 1);
  const auto references = references_of(sheet, states_on(sheet, plane()), axis_at(angle));
  const double of_nodes = h / (2 * std::sin(h / (2 * radius)));  // radius whose chord over h/R is h
  const auto rolled = cylinder(of_nodes);
  const double arc = of_nodes / radius;  // arc of the nodes' circle per length of strip
  const auto states = states_on(sheet, {[&](const Vector3d& x) {
                                          return rolled.place({arc * x.x(), x.y(), 0});
                                        },
                                        [&](const Vector3d& x) {
                                          return rolled.normal({arc * x.x(), x.y(), 0});
                                        }});

  const Matrix2d curvature{{1 / radius, 0}, {0, 0}};
  for (std::size_t t = 0; t < references.size(); ++t) {
    const Vector6d value = triangle_strain(references[t], states[t]).value;
    EXPECT_LT(largest(value.head<3>()), 1e-13);
    EXPECT_LT(largest(value.tail<3>() - components(curvature, angle)), 1e-13);
  }
}

TEST_P(RolledStrip, StretchedAndRolledLayersHaveTheirOwnLength) {
  const double radius = GetParam();
  const double stretch = 1.25;
  const double h = 0.9;
  const auto sheet = rectangle(4 * h, 1, 4, 1);
  const auto references = references_of(sheet, states_on(sheet, plane()), Vector3d::UnitX());
  const double of_nodes = stretch * h / (2 * std::sin(stretch * h / (2 * radius)));
  const auto rolled = cylinder(of_nodes);
  const double arc = stretch * of_nodes / radius;
  const auto states = states_on(sheet, {[&](const Vector3d& x) {
                                          return rolled.place({arc * x.x(), x.y(), 0});
                                        },
                                        [&](const Vector3d& x) {
                                          return rolled.normal({arc * x.x(), x.y(), 0});
                                        }});

  for (std::size_t t = 0; t < references.size(); ++t) {
    const Vector6d value = triangle_strain(references[t], states[t]).value;
    const double metric = 1 + 2 * value(0);
    for (const double z : {-0.4, 0.0, 0.4}) {
      const double layer = metric - 2 * z * value(3) + z * z * value(3) * value(3) / metric;
      EXPECT_NEAR(std::sqrt(layer), stretch * (1 - z / radius), 1e-13);  // shorter towards the centre
    }
    EXPECT_NEAR(value(4), 0, 1e-13);
    EXPECT_NEAR(value(5), 0, 1e-13);
  }
}

// Mid-side displacement of edge i: bow times sign times nu times 4 Nj Nk. Its strain at barycentric
// coordinates b.
Vector3d bow_strain_at(const TriangleReference& r, int i, const Vector3d& b) {
  const int j = (i + 1) % 3;
  const int k = (i + 2) % 3;
  const Vector2d slope = -4 * (b(k) * r.normal.col(j) / r.height(j) + b(j) * r.normal.col(k) / r.height(k));
  const Vector2d nu = r.sign(i) * r.normal.col(i);
  return {nu.x() * slope.x(), nu.y() * slope.y(), nu.x() * slope.y() + nu.y() * slope.x()};
}

// Interior points exact to degree 2 (Strang and Fix 1973), other ones than the code's mid-sides.
const std::array<Vector3d, 3> kInterior{Vector3d(2, 0.5, 0.5) / 3, Vector3d(0.5, 2, 0.5) / 3,
                                        Vector3d(0.5, 0.5, 2) / 3};

TEST_P(ShellTriangle, BowsEnterWithTheMeanOfTheirStrain) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();
  const StrainGradient gradient = triangle_strain(s.reference, s.state).gradient;
  for (int i = 0; i < 3; ++i) {
    Vector3d mean = Vector3d::Zero();
    for (const Vector3d& b : kInterior) mean += bow_strain_at(s.reference, i, b) / 3;
    EXPECT_LT(largest(gradient.block<3, 1>(0, 12 + i) - mean), 1e-13);
    EXPECT_EQ(largest(gradient.block<3, 1>(3, 12 + i)), 0);
    EXPECT_EQ(s.reference.sign(i) > 0,
              gradient(0, 12 + i) + gradient(1, 12 + i) > 0);  // outward bow stretches
  }
}

TEST_P(ShellTriangle, BowStabilisationIsTheEnergyOfTheVaryingStrain) {
  TriangleSampler sampler(GetParam());
  const TriangleSample s = sampler.sample();
  Eigen::Matrix3d elastic;
  elastic << 226, 68, 0, 68, 226, 0, 0, 0, 79;
  const double thickness = 1.3;
  const StrainGradient gradient = triangle_strain(s.reference, s.state).gradient;
  Eigen::Matrix3d energy = Eigen::Matrix3d::Zero();
  for (const Vector3d& b : kInterior) {
    Eigen::Matrix3d varying = -gradient.block<3, 3>(0, 12);
    for (int i = 0; i < 3; ++i) varying.col(i) += bow_strain_at(s.reference, i, b);
    energy += s.reference.area * thickness / 3 * varying.transpose() * elastic * varying;
  }

  const Eigen::Matrix3d stiffness = bow_stabilisation(s.reference, elastic, thickness);

  EXPECT_LT(largest(stiffness - energy), 1e-12 * largest(energy));
  EXPECT_LT(largest(stiffness - stiffness.transpose()), 1e-12 * largest(energy));
  // A quadratic displacement that vanishes at the nodes has no constant strain: no bow goes free.
  EXPECT_GT(Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(stiffness).eigenvalues()(0),
            0.01 * largest(stiffness));
}

}  // namespace
