#include "solver/material/stress_update.hpp"

#include <gtest/gtest.h>

#include <random>

#include "tests/support/finite_difference.hpp"

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using Eigen::VectorXd;

constexpr double kYoung = 206000;
constexpr double kPoisson = 0.3;
const PlaneModuli kModuli(kYoung, kPoisson);
const SwiftHardening kSwift{530, 0.005, 0.2};
const VoceHardening kVoce{140.2, 330.2, 12.4};
const VoceHardening kPerfect{250, 250, 0};

Vector3d stress_coordinates(double s11, double s22, double s12) {
  return {s11 + s22, s11 - s22, 2 * s12};
}

/// In-plane elastic strain of a stress state, three-dimensional Hooke, in coordinates.
Vector3d hooke(double s11, double s22, double s12, double s33, double young = kYoung) {
  const double nu = kPoisson;
  return strain_coordinates(
      {(s11 - nu * (s22 + s33)) / young, (s22 - nu * (s11 + s33)) / young, 2 * (1 + nu) * s12 / young});
}

/// Directions of stress with von Mises stress 1, [11, 22, 12]: uniaxial, plane strain, equibiaxial, shear,
/// tension-compression.
const double kRoot3 = std::sqrt(3.0);
const std::vector<Vector3d> kDirections = {
    {1, 0, 0}, {2 / kRoot3, 1 / kRoot3, 0}, {1, 1, 0}, {0, 0, 1 / kRoot3}, {1 / kRoot3, -1 / kRoot3, 0}};

TEST(StressUpdate, ElasticLoopReturnsToZero) {
  Vector3d plastic = Vector3d::Zero();
  PointStress point;
  for (const Vector3d& strain :
       {Vector3d(2e-4, 3e-4, 1e-4), Vector3d(-2e-4, 1e-4, -3e-4), Vector3d(0, 0, 0)}) {
    ASSERT_TRUE(update_stress(kModuli, kSwift, strain, plastic, 0, 0, point));
    plastic = point.plastic_strain;
  }
  EXPECT_EQ(point.stress.norm(), 0);
  EXPECT_EQ(point.equivalent_plastic_strain, 0);
}

TEST(StressUpdate, UnloadsElasticallyAndYieldsAgainInReverseAtTheFlowStress) {
  PointStress loaded;
  ASSERT_TRUE(update_stress(kModuli, kSwift, Vector3d(0, 0, 0.02), Vector3d::Zero(), 0, 0, loaded));
  const double shear_yield = loaded.flow_stress / kRoot3;
  const double range =
      2 * 2 * shear_yield / kModuli.shear;  // of the coordinate e12 between yield and reverse yield
  for (double part : {0.3, 0.999999, 1.000001}) {
    PointStress back;
    ASSERT_TRUE(update_stress(kModuli, kSwift, Vector3d(0, 0, 0.02 - part * range), loaded.plastic_strain,
                              loaded.equivalent_plastic_strain, 0, back));
    EXPECT_EQ(back.equivalent_plastic_strain > loaded.equivalent_plastic_strain, part > 1);
    EXPECT_NEAR(voigt_stress(back.stress)[2], shear_yield * (1 - 2 * std::min(part, 1.0)), 1e-3);
  }
}

TEST(StressUpdate, PressureAllAroundNeverYields) {
  for (double pressure : {1.0, 100.0, 1e4, 1e6}) {
    PointStress point;
    ASSERT_TRUE(update_stress(kModuli, kSwift, hooke(-pressure, -pressure, 0, -pressure), Vector3d::Zero(), 0,
                              -pressure, point));
    EXPECT_EQ(point.equivalent_plastic_strain, 0);
    EXPECT_LT((point.stress - stress_coordinates(-pressure, -pressure, 0)).norm(), 1e-12 * pressure);
    // Volume change: ln(t/t0) equals the in-plane strain.
    EXPECT_NEAR(thickness_strain(kModuli, point, -pressure), -pressure * (1 - 2 * kPoisson) / kYoung,
                1e-12 * pressure / kYoung);
  }
}

TEST(StressUpdate, HydrostaticShiftChangesOnlyTheMeanStress) {
  const Vector3d strain(0.012, 0.03, -0.02);
  PointStress base;
  ASSERT_TRUE(update_stress(kModuli, kVoce, strain, Vector3d(0.001, 0, 0.002), 0.004, 0, base));
  for (double pressure : {30.0, 100.0, 800.0}) {
    PointStress squeezed;
    const Vector3d shift = hooke(-pressure, -pressure, 0, -pressure);
    ASSERT_TRUE(
        update_stress(kModuli, kVoce, strain + shift, Vector3d(0.001, 0, 0.002), 0.004, -pressure, squeezed));
    EXPECT_LT((squeezed.stress - base.stress - Vector3d(-2 * pressure, 0, 0)).norm(),
              1e-9 * base.stress.norm());
    EXPECT_NEAR(squeezed.equivalent_plastic_strain, base.equivalent_plastic_strain, 1e-14);
  }
}

TEST(StressUpdate, FirstYieldUnderPressureIsWhereTheDeviatorReachesIt) {
  // Free in-plane edges: s11 = s22 = 0, s33 = -p yields at p = sigma_y.
  for (double part : {0.999999, 1.000001}) {
    const double pressure = part * 250;
    PointStress point;
    ASSERT_TRUE(
        update_stress(kModuli, kPerfect, hooke(0, 0, 0, -pressure), Vector3d::Zero(), 0, -pressure, point));
    EXPECT_EQ(point.equivalent_plastic_strain > 0, part > 1);
  }
}

template <class Curve>
void expect_consistent_tangent(const Curve& curve, const Vector3d& strain, const Vector3d& plastic,
                               double equivalent, double s33, double step) {
  PointStress point;
  ASSERT_TRUE(update_stress(kModuli, curve, strain, plastic, equivalent, s33, point));
  const auto stress = [&](const VectorXd& x) -> VectorXd {
    PointStress p;
    EXPECT_TRUE(update_stress(kModuli, curve, Vector3d(x), plastic, equivalent, s33, p));
    EXPECT_EQ(p.equivalent_plastic_strain > equivalent, point.equivalent_plastic_strain > equivalent);
    return p.stress;
  };
  const auto difference = test::difference_jacobian(stress, strain, VectorXd::Constant(3, step));
  EXPECT_LT(test::relative_difference(point.tangent(), difference), 1e-7);
}

TEST(StressUpdate, TangentMatchesFiniteDifference) {
  std::mt19937 generator(3);
  std::uniform_real_distribution<double> uniform(-1, 1);
  int n_plastic = 0;
  for (int i = 0; i < 60; ++i) {
    const double size = std::pow(10.0, -3.5 + 3 * (i / 60.0));
    const Vector3d plastic = 0.01 * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    const Vector3d strain =
        plastic + size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    const double s33 = i % 3 == 0 ? 0 : -150 * std::abs(uniform(generator));
    PointStress point;
    ASSERT_TRUE(update_stress(kModuli, kSwift, strain, plastic, 0.012, s33, point));
    n_plastic += point.equivalent_plastic_strain > 0.012 ? 1 : 0;
    const double step = 2e-3 * size;
    expect_consistent_tangent(kSwift, strain, plastic, 0.012, s33, step);
    expect_consistent_tangent(kVoce, strain, plastic, 0.012, s33, step);
    expect_consistent_tangent(kPerfect, strain, plastic, 0.012, s33, step);
  }
  EXPECT_GT(n_plastic, 20);
  EXPECT_LT(n_plastic, 58);
}

TEST(StressUpdate, TangentIsConsistentJustInsideAndJustOutsideTheYieldSurface) {
  for (const Vector3d& direction : kDirections) {
    const Vector3d s = direction * flow_stress(kSwift, 0).stress;
    const Vector3d at_yield = hooke(s[0], s[1], s[2], 0);
    for (double part : {1 - 1e-4, 1 + 1e-4})
      expect_consistent_tangent(kSwift, part * at_yield, Vector3d::Zero(), 0, 0, 1e-8);
  }
}

TEST(StressUpdate, ReturnsToTheYieldSurfaceFromAnywhere) {
  // From the skin of the surface to 1e5 times yield, for curves from flat to nearly vertical at the start.
  std::mt19937 generator(5);
  std::uniform_real_distribution<double> uniform(-1, 1);
  const SwiftHardening steep{530, 1e-9, 0.3};
  const auto check = [&](const auto& curve, const Vector3d& strain, double s33) {
    PointStress p;
    ASSERT_TRUE(update_stress(kModuli, curve, strain, Vector3d::Zero(), 0, s33, p));
    if (p.equivalent_plastic_strain > 0) {
      EXPECT_NEAR(von_mises(p.stress, s33), p.flow_stress, 1e-12 * p.flow_stress + 1e-13 * std::abs(s33));
    } else {
      EXPECT_LE(von_mises(p.stress, s33), p.flow_stress);
    }
  };
  for (int i = 0; i < 2000; ++i) {
    const double size = std::pow(10.0, 5 * uniform(generator) - 3);
    const Vector3d strain = size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    const double s33 = -300 * std::abs(uniform(generator));
    check(kSwift, strain, s33);
    check(kVoce, strain, s33);
    check(kPerfect, strain, s33);
    check(steep, strain, s33);
  }
}

TEST(StressUpdate, ReturnsToTheYieldSurfaceUnderACurveWithAPlateauAndUnderOneThatStartsUpright) {
  // The plateau makes the curve steepen at its end: steps beyond the root occur.
  const FlowTable plateau(TableHardening{{{0, 210}, {0.015, 210}, {0.017, 320}, {0.2, 420}}});
  const LudwikHardening upright{120, 300, 0.45};
  std::mt19937 generator(7);
  std::uniform_real_distribution<double> uniform(-1, 1);
  const auto check = [&](const auto& curve, const Vector3d& strain) {
    PointStress p;
    ASSERT_TRUE(update_stress(kModuli, curve, strain, Vector3d::Zero(), 0, 0, p));
    EXPECT_NEAR(p.flow_stress, flow_stress(curve, p.equivalent_plastic_strain).stress, 1e-12 * p.flow_stress);
    if (p.equivalent_plastic_strain > 0) {
      EXPECT_NEAR(von_mises(p.stress, 0), p.flow_stress, 1e-11 * p.flow_stress);
    }
  };
  for (int i = 0; i < 2000; ++i) {
    const double size = std::pow(10.0, 3 * uniform(generator) - 2);
    const Vector3d strain = size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    check(plateau, strain);
    check(upright, strain);
  }
}

TEST(StressUpdate, FailsOnAStrainThatIsNotFinite) {
  PointStress p;
  EXPECT_FALSE(update_stress(kModuli, kSwift, Vector3d(1e200, 0, 0), Vector3d::Zero(), 0, 0, p));
}

}  // namespace
}  // namespace halftool::solver
