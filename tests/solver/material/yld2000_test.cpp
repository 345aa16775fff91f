#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <random>

#include "solver/material/hill_1948.hpp"
#include "solver/material/yld2000_return.hpp"
#include "tests/support/finite_difference.hpp"
#include "tests/support/yld2000_sheets.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;
using Eigen::VectorXd;

const PlaneModuli kModuli(70000, 0.33);
const SwiftHardening kSwift{530, 0.005, 0.2};
const VoceHardening kVoce{140.2, 330.2, 12.4};
const VoceHardening kPerfect{250, 250, 0};

/// Published sheets, Hosford's isotropic ones (exponents whole, broken and sharp) and one that no sheet
/// reaches.
std::vector<Yld2000> sheets() {
  std::vector<Yld2000> all;
  for (const auto& sheet : test::yld2000_sheets()) all.push_back(sheet.yield);
  for (const double exponent : {2.0, 3.0, 6.0, 6.5, 8.0, 20.0, 40.0}) {
    Yld2000 isotropic;
    isotropic.exponent = exponent;
    all.push_back(isotropic);
  }
  all.push_back({20, {0.5, 1.6, 0.4, 1.2, 1.5, 0.6, 0.3, 1.9}});
  return all;
}

/// The class's own coordinates of stress [11 + 22, 11 - 22, 2*12].
Vector3d own(const YldPlane& yld, const Vector3d& stress) {
  return {stress[0] / yld.stretch(), stress[1], stress[2]};
}

TEST(Yld2000, ExponentTwoAndCoefficientsOfOneAreVonMises) {
  const YldPlane yld(kModuli, Yld2000{2, {1, 1, 1, 1, 1, 1, 1, 1}});
  std::mt19937 generator(1);
  std::uniform_real_distribution<double> uniform(-1, 1);
  for (int i = 0; i < 50; ++i) {
    const Vector3d strain = 0.02 * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    const Vector3d plastic = 0.005 * Vector3d(uniform(generator), uniform(generator), uniform(generator));
    const double s33 = -100 * std::abs(uniform(generator));
    PointStress mises;
    YldPointStress point;
    ASSERT_TRUE(update_stress(kModuli, kSwift, strain, plastic, 0.01, s33, mises));
    ASSERT_TRUE(update_stress(yld, kSwift, strain, plastic, 0.01, s33, point));
    EXPECT_LT((point.stress - mises.stress).norm(), 1e-11 * mises.stress.norm());
    EXPECT_LT((point.tangent() - mises.tangent()).norm(), 1e-11 * mises.tangent().norm());
    EXPECT_NEAR(point.equivalent_plastic_strain, mises.equivalent_plastic_strain, 1e-13);
    EXPECT_NEAR(yld.equivalent_stress(point.stress, s33), von_mises(point.stress, s33), 1e-10);
  }
}

TEST(Yld2000, CoefficientsOfOneAreHosford) {
  // Hosford, J. Appl. Mech. 39 (1972) 607: |s1|^a + |s2|^a + |s1 - s2|^a = 2 sigma^a.
  std::mt19937 generator(2);
  std::uniform_real_distribution<double> uniform(-300, 300);
  for (const double a : {2.0, 5.5, 6.0, 8.0, 20.0}) {
    Yld2000 isotropic;
    isotropic.exponent = a;
    const YldPlane yld(kModuli, isotropic);
    for (int i = 0; i < 50; ++i) {
      const Vector3d stress(uniform(generator), uniform(generator), uniform(generator));
      const double radius = std::hypot(stress[1], stress[2]);
      const double s1 = 0.5 * (stress[0] + radius);
      const double s2 = 0.5 * (stress[0] - radius);
      const double sum = std::pow(std::abs(s1), a) + std::pow(std::abs(s2), a) + std::pow(radius, a);
      const double expected = std::pow(0.5 * sum, 1 / a);
      EXPECT_NEAR(yld.equivalent_stress(stress, 0), expected, 1e-12 * expected);
    }
  }
}

/// Stresses of every kind, among them such that one of the two transforms has equal principal values or
/// nearly, or one of the three terms vanishes.
std::vector<Vector3d> delicate_stresses(const Yld2000& yield) {
  const auto& a = yield.alpha;
  // From [s11, s22] of the deviator of the in-plane stress: sum 3 (s11 + s22), difference s11 - s22.
  const auto stress = [](double s11, double s22, double shear) {
    return Vector3d(3 * (s11 + s22), s11 - s22, shear);
  };
  std::vector<Vector3d> all = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 1, 0}, {1, -1, 0}, {2, 1, 1}};
  for (const double shear : {0.0, 1e-9, 1e-5, 1e-3}) {
    all.push_back(stress(a[1], a[0], shear));                        // X' equal
    all.push_back(stress(2 * a[3] - a[5], 2 * a[4] - a[2], shear));  // X'' equal
    all.push_back(stress(a[5], -2 * a[4], shear));                   // 2 X''1 + X''2 zero
    all.push_back(stress(2 * a[3], -a[2], shear));
  }
  return all;
}

TEST(Yld2000, DerivativesOfTheEquivalentStressMatchFiniteDifferences) {
  for (const Yld2000& yield : sheets()) {
    const YldPlane yld(kModuli, yield);
    for (const Vector3d& stress : delicate_stresses(yield)) {
      SCOPED_TRACE("a " + std::to_string(yield.exponent));
      const Vector3d y = 200 / stress.norm() * own(yld, stress);
      const EquivalentStress at = yld.equivalent(y, 150);
      EXPECT_NEAR(at.value, yld.equivalent_stress({y[0] * yld.stretch(), y[1], y[2]}, 0), 1e-12 * at.value);
      EXPECT_NEAR(at.gradient.dot(y), at.value, 1e-12 * at.value);                // degree one
      EXPECT_LT((at.hessian * y).norm(), 1e-12 * (1 + 200 * at.hessian.norm()));  // degree nought
      const double step = 2e-3 / yield.exponent;
      const auto value = [&](const VectorXd& x) -> VectorXd {
        return VectorXd::Constant(1, yld.equivalent(Vector3d(x), 150).value);
      };
      const auto gradient = [&](const VectorXd& x) -> VectorXd {
        return yld.equivalent(Vector3d(x), 150).gradient;
      };
      const auto steps = VectorXd::Constant(3, 200 * step);
      // With exponent 3 the third derivative jumps, and the differences themselves err.
      const bool jumps = yield.exponent == 3;
      const auto value_slope = test::difference_jacobian(value, y, steps);
      EXPECT_LT(test::relative_difference(at.gradient.transpose(), value_slope), jumps ? 1e-6 : 1e-8);
      const auto gradient_slope = test::difference_jacobian(gradient, y, steps);
      EXPECT_LT(test::relative_difference(at.hessian, gradient_slope), jumps ? 2e-3 : 1e-7);
    }
  }
}

TEST(Yld2000, YieldSurfaceIsConvexAndClosed) {
  std::mt19937 generator(4);
  std::uniform_real_distribution<double> uniform(-1, 1);
  for (const Yld2000& yield : sheets()) {
    const YldPlane yld(kModuli, yield);
    std::vector<Vector3d> stresses = delicate_stresses(yield);
    for (int i = 0; i < 2000; ++i)
      stresses.emplace_back(uniform(generator), uniform(generator), uniform(generator));
    for (std::size_t i = 1; i < stresses.size(); ++i) {
      const Vector3d a = stresses[i].normalized();
      const Vector3d b = stresses[i - 1].normalized();
      const double middle = yld.equivalent_stress(0.5 * (a + b), 0);
      const double mean = 0.5 * (yld.equivalent_stress(a, 0) + yld.equivalent_stress(b, 0));
      EXPECT_LE(middle, mean * (1 + 1e-14));
      EXPECT_GT(mean, 0.05);
      const EquivalentStress at = yld.equivalent(own(yld, a), 1);
      const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(at.hessian);
      EXPECT_GT(eigen.eigenvalues()[0], -1e-12 * (1 + eigen.eigenvalues()[2]));
    }
  }
}

template <class Curve>
void expect_consistent_tangent(const YldPlane& yld, const Curve& curve, const Vector3d& strain,
                               const Vector3d& plastic, double s33, double step, double allowed) {
  YldPointStress point;
  ASSERT_TRUE(update_stress(yld, curve, strain, plastic, 0.012, s33, point));
  const auto stress = [&](const VectorXd& x) -> VectorXd {
    YldPointStress p;
    EXPECT_TRUE(update_stress(yld, curve, Vector3d(x), plastic, 0.012, s33, p));
    EXPECT_EQ(p.equivalent_plastic_strain > 0.012, point.equivalent_plastic_strain > 0.012);
    return p.stress;
  };
  const auto difference = test::difference_jacobian(stress, strain, VectorXd::Constant(3, step));
  EXPECT_LT(test::relative_difference(point.tangent(), difference), allowed);
}

TEST(Yld2000, TangentMatchesFiniteDifference) {
  std::mt19937 generator(3);
  std::uniform_real_distribution<double> uniform(-1, 1);
  int n_plastic = 0;
  int n = 0;
  for (const Yld2000& yield : sheets()) {
    if (yield.exponent == 3) continue;  // see the derivatives of the equivalent stress
    SCOPED_TRACE("a " + std::to_string(yield.exponent));
    const YldPlane yld(kModuli, yield);
    for (int i = 0; i < 40; ++i, ++n) {
      const double size = std::pow(10.0, -3.5 + 3 * (i / 40.0));
      const Vector3d plastic = 0.01 * Vector3d(uniform(generator), uniform(generator), uniform(generator));
      const Vector3d strain =
          plastic + size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
      const double s33 = i % 3 == 0 ? 0 : -150 * std::abs(uniform(generator));
      YldPointStress point;
      ASSERT_TRUE(update_stress(yld, kSwift, strain, plastic, 0.012, s33, point));
      n_plastic += point.equivalent_plastic_strain > 0.012 ? 1 : 0;
      const double step = 2e-3 * size / yield.exponent;
      expect_consistent_tangent(yld, kSwift, strain, plastic, s33, step, 1e-6);
      expect_consistent_tangent(yld, kVoce, strain, plastic, s33, step, 1e-6);
      expect_consistent_tangent(yld, kPerfect, strain, plastic, s33, step, 1e-6);
    }
  }
  EXPECT_GT(n_plastic, n / 3);
  EXPECT_LT(n_plastic, n - n / 10);
}

TEST(Yld2000, TangentMatchesFiniteDifferenceNearCornersAndEqualPrincipalValues) {
  for (const Yld2000& yield : sheets()) {
    SCOPED_TRACE("a " + std::to_string(yield.exponent));
    const YldPlane yld(kModuli, yield);
    for (const Vector3d& stress : delicate_stresses(yield))
      for (const double beyond : {1.3, 5.0}) {
        const double to_yield = flow_stress(kSwift, 0.012).stress / yld.equivalent_stress(stress, 0);
        const Vector3d trial = beyond * to_yield * stress;
        const Vector3d strain(trial[0] / kModuli.mean, trial[1] / kModuli.shear, trial[2] / kModuli.shear);
        expect_consistent_tangent(yld, kSwift, strain, Vector3d::Zero(), 0,
                                  1e-3 * strain.norm() / yield.exponent, yield.exponent == 3 ? 1e-3 : 1e-6);
      }
  }
}

TEST(Yld2000, ReturnsToTheYieldSurfaceAndFlowsAlongItsNormalFromAnywhere) {
  std::mt19937 generator(5);
  std::uniform_real_distribution<double> uniform(-1, 1);
  const SwiftHardening steep{530, 1e-9, 0.3};
  const auto check = [&](const YldPlane& yld, const auto& curve, const Vector3d& strain, double s33) {
    YldPointStress p;
    ASSERT_TRUE(update_stress(yld, curve, strain, Vector3d::Zero(), 0, s33, p));
    const double equivalent = yld.equivalent_stress(p.stress, s33);
    if (p.equivalent_plastic_strain == 0) {
      EXPECT_LE(equivalent, p.flow_stress * (1 + 1e-14));
      return;
    }
    const double size = kModuli.mean * strain.norm();
    EXPECT_NEAR(equivalent, p.flow_stress, 1e-11 * p.flow_stress + 2e-14 * size + 1e-12 * std::abs(s33));
    // Plastic work of the stress relative to s33 is flow stress times equivalent strain.
    const Vector3d x = p.stress - Vector3d(2 * s33, 0, 0);
    EXPECT_NEAR(x.dot(p.plastic_strain) / (p.flow_stress * p.equivalent_plastic_strain), 1, 1e-8);
    const Vector3d elastic = elastic_stress(kModuli, strain, p.plastic_strain, 0, s33).stress;
    EXPECT_LT((elastic - p.stress).norm(), 1e-9 * p.stress.norm() + 1e-12 * size);
  };
  for (const Yld2000& yield : sheets()) {
    SCOPED_TRACE("a " + std::to_string(yield.exponent));
    const YldPlane yld(kModuli, yield);
    for (int i = 0; i < 400; ++i) {
      const double size = std::pow(10.0, 4 * uniform(generator) - 2.5);
      const Vector3d strain = size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
      const double s33 = -300 * std::abs(uniform(generator));
      check(yld, kSwift, strain, s33);
      check(yld, kVoce, strain, s33);
      check(yld, kPerfect, strain, s33);
      check(yld, steep, strain, s33);
    }
  }
}

TEST(Yld2000, PressureAllAroundChangesOnlyTheMeanStress) {
  const YldPlane yld(kModuli, test::yld2000_sheets().front().yield);
  const Vector3d strain(0.012, 0.03, -0.02);
  YldPointStress base;
  ASSERT_TRUE(update_stress(yld, kVoce, strain, Vector3d(0.001, 0, 0.002), 0.004, 0, base));
  for (const double pressure : {30.0, 100.0, 800.0}) {
    YldPointStress squeezed;
    const Vector3d shift(-pressure * (1 - 2 * 0.33) / 70000, 0, 0);
    ASSERT_TRUE(
        update_stress(yld, kVoce, strain + shift, Vector3d(0.001, 0, 0.002), 0.004, -pressure, squeezed));
    EXPECT_LT((squeezed.stress - base.stress - Vector3d(-2 * pressure, 0, 0)).norm(),
              1e-9 * base.stress.norm());
    EXPECT_NEAR(squeezed.equivalent_plastic_strain, base.equivalent_plastic_strain, 1e-13);
  }
}

TEST(Yld2000, FailsOnAStrainThatIsNotFinite) {
  YldPointStress p;
  const YldPlane yld(kModuli, test::yld2000_sheets().front().yield);
  for (const double strain : {1e200, std::nan(""), HUGE_VAL})
    EXPECT_FALSE(update_stress(yld, kSwift, Vector3d(strain, 0, 0), Vector3d::Zero(), 0, 0, p));
}

}  // namespace
}  // namespace halftool::solver
