#include "solver/material/hill_1948.hpp"

#include <gtest/gtest.h>

#include <random>

#include "tests/support/finite_difference.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;
using Eigen::VectorXd;

const PlaneModuli kModuli(70000, 0.33);
const SwiftHardening kSwift{530, 0.005, 0.2};
const VoceHardening kVoce{140.2, 330.2, 12.4};
const VoceHardening kPerfect{250, 250, 0};
// AA6022-T4 (Tian and others 2016), mild steel of NUMISHEET'93 (from memory), and two that no sheet reaches.
const std::vector<RValues> kSheets = {{0.8, 0.37, 0.54}, {1.79, 1.51, 2.27}, {0.1, 3, 5}, {6, 0.2, 0.3}};

TEST(Hill1948, ConstantsOfAA6022) {
  // F + H and 2 N: a public data set for AA6022-T4.
  const HillConstants c(RValues{0.8, 0.37, 0.54});
  EXPECT_NEAR(c.G + c.H, 1, 1e-15);
  EXPECT_NEAR(c.F + c.H, 1.26749, 5e-6);
  EXPECT_NEAR(c.H, 0.44444, 5e-6);
  EXPECT_NEAR(2 * c.N, 2.39877, 5e-6);
}

TEST(Hill1948, RValuesOfOneAreVonMises) {
  const HillPlane hill(kModuli, HillConstants(RValues{1, 1, 1}));
  std::mt19937 generator(1);
  std::uniform_real_distribution<double> uniform(-1, 1);
  for (int i = 0; i < 50; ++i) {
    const Vector3d strain = 0.02 * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    const Vector3d plastic = 0.005 * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    const double s33 = -100 * std::abs(uniform(generator));
    PointStress mises;
    HillPointStress point;
    ASSERT_TRUE(update_stress(kModuli, kSwift, strain, plastic, 0.01, s33, mises));
    ASSERT_TRUE(update_stress(hill, kSwift, strain, plastic, 0.01, s33, point));
    EXPECT_LT((point.stress - mises.stress).norm(), 1e-12 * mises.stress.norm());
    EXPECT_LT((point.tangent() - mises.tangent()).norm(), 1e-12 * mises.tangent().norm());
    EXPECT_NEAR(point.equivalent_plastic_strain, mises.equivalent_plastic_strain, 1e-14);
    EXPECT_NEAR(hill.equivalent_stress(point.stress, s33), von_mises(point.stress, s33), 1e-10);
  }
}

template <class Curve>
void expect_consistent_tangent(const HillPlane& hill, const Curve& curve, const Vector3d& strain,
                               const Vector3d& plastic, double s33, double step) {
  HillPointStress point;
  ASSERT_TRUE(update_stress(hill, curve, strain, plastic, 0.012, s33, point));
  const auto stress = [&](const VectorXd& x) -> VectorXd {
    HillPointStress p;
    EXPECT_TRUE(update_stress(hill, curve, Vector3d(x), plastic, 0.012, s33, p));
    EXPECT_EQ(p.equivalent_plastic_strain > 0.012, point.equivalent_plastic_strain > 0.012);
    return p.stress;
  };
  const auto difference = test::difference_jacobian(stress, strain, VectorXd::Constant(3, step));
  EXPECT_LT(test::relative_difference(point.tangent(), difference), 1e-7);
}

TEST(Hill1948, TangentMatchesFiniteDifference) {
  std::mt19937 generator(3);
  std::uniform_real_distribution<double> uniform(-1, 1);
  int n_plastic = 0;
  for (const RValues& r : kSheets)
    for (int i = 0; i < 40; ++i) {
      const HillPlane hill(kModuli, HillConstants(r));
      const double size = std::pow(10.0, -3.5 + 3 * (i / 40.0));
      const Vector3d plastic = 0.01 * Vector3d(uniform(generator), uniform(generator), uniform(generator));
      const Vector3d strain =
          plastic + size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
      const double s33 = i % 3 == 0 ? 0 : -150 * std::abs(uniform(generator));
      HillPointStress point;
      ASSERT_TRUE(update_stress(hill, kSwift, strain, plastic, 0.012, s33, point));
      n_plastic += point.equivalent_plastic_strain > 0.012 ? 1 : 0;
      const double step = 1e-3 * size;
      expect_consistent_tangent(hill, kSwift, strain, plastic, s33, step);
      expect_consistent_tangent(hill, kVoce, strain, plastic, s33, step);
      expect_consistent_tangent(hill, kPerfect, strain, plastic, s33, step);
    }
  EXPECT_GT(n_plastic, 60);
  EXPECT_LT(n_plastic, 155);
}

TEST(Hill1948, ReturnsToTheYieldSurfaceAndFlowsAlongItsNormalFromAnywhere) {
  std::mt19937 generator(5);
  std::uniform_real_distribution<double> uniform(-1, 1);
  const SwiftHardening steep{530, 1e-9, 0.3};
  const auto check = [&](const HillPlane& hill, const auto& curve, const Vector3d& strain, double s33) {
    HillPointStress p;
    ASSERT_TRUE(update_stress(hill, curve, strain, Vector3d::Zero(), 0, s33, p));
    const double equivalent = hill.equivalent_stress(p.stress, s33);
    if (p.equivalent_plastic_strain == 0) {
      EXPECT_LE(equivalent, p.flow_stress);
      return;
    }
    EXPECT_NEAR(equivalent, p.flow_stress, 1e-11 * p.flow_stress + 1e-12 * std::abs(s33));
    // Plastic work of the stress relative to s33 is flow stress times equivalent strain.
    const Vector3d x = p.stress - Vector3d(2 * s33, 0, 0);
    EXPECT_NEAR(x.dot(p.plastic_strain) / (p.flow_stress * p.equivalent_plastic_strain), 1, 1e-9);
    const Vector3d elastic = elastic_stress(kModuli, strain, p.plastic_strain, 0, s33).stress;
    EXPECT_LT((elastic - p.stress).norm(), 1e-9 * p.stress.norm() + 1e-9 * kModuli.mean * strain.norm());
  };
  for (const RValues& r : kSheets)
    for (int i = 0; i < 400; ++i) {
      const HillPlane hill(kModuli, HillConstants(r));
      const double size = std::pow(10.0, 4 * uniform(generator) - 2.5);
      const Vector3d strain = size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
      const double s33 = -300 * std::abs(uniform(generator));
      check(hill, kSwift, strain, s33);
      check(hill, kVoce, strain, s33);
      check(hill, kPerfect, strain, s33);
      check(hill, steep, strain, s33);
    }
}

TEST(Hill1948, FailsOnAStrainThatIsNotFinite) {
  HillPointStress p;
  const HillPlane hill(kModuli, HillConstants(kSheets.front()));
  EXPECT_FALSE(update_stress(hill, kSwift, Vector3d(1e200, 0, 0), Vector3d::Zero(), 0, 0, p));
}

}  // namespace
}  // namespace halftool::solver
