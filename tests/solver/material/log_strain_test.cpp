#include "solver/material/log_strain.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <random>

#include "tests/support/finite_difference.hpp"

namespace halftool::solver {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector3d;
using Eigen::VectorXd;

Vector3d coordinates(const Matrix2d& C) {
  return {0.5 * (C(0, 0) + C(1, 1)), 0.5 * (C(0, 0) - C(1, 1)), C(0, 1)};
}

/// Metric with principal logarithmic strains e1, e2, axes turned by an angle.
Matrix2d metric_of(double e1, double e2, double angle) {
  const Eigen::Rotation2Dd turn(angle);
  const Matrix2d Q = turn.toRotationMatrix();
  return Q * Vector3d(std::exp(2 * e1), std::exp(2 * e2), 0).head<2>().asDiagonal() * Q.transpose();
}

struct Principal {
  double e1, e2, angle;
};
std::vector<Principal> states() {
  // Equal and nearly equal eigenvalues, both sides of the change of branch (r = 0.03, |e1 - e2| = 0.1749),
  // large.
  std::vector<Principal> list = {
      {0, 0, 0},         {0.1, 0.1, 0.4},  {0.1, 0.1 + 1e-12, 0.4}, {-0.2, -0.2 + 1e-8, 1},
      {0.05, 0.0501, 2}, {0.1745, 0, 0.7}, {0.1755, 0, 0.7},        {0.5, -0.5, 0.3},
      {1.2, 0.1, -0.9},  {-0.6, 0.7, 0.2}, {0.17, -0.004, 1.4},     {2, -1, 0.5}};
  std::mt19937 generator(7);
  std::uniform_real_distribution<double> uniform(-0.4, 0.4);
  for (int i = 0; i < 40; ++i)
    list.push_back({uniform(generator), uniform(generator), 4 * uniform(generator)});
  return list;
}

TEST(LogStrain, EqualsTheSpectralDefinition) {
  for (const Principal& p : states()) {
    const Matrix2d C = metric_of(p.e1, p.e2, p.angle);
    const Matrix2d Q = Eigen::Rotation2Dd(p.angle).toRotationMatrix();
    const Matrix2d E = Q * Vector3d(p.e1, p.e2, 0).head<2>().asDiagonal() * Q.transpose();
    LogStrain log;
    ASSERT_TRUE(log_strain(coordinates(C), log));
    EXPECT_LT((log.value() - coordinates(E)).norm(), 5e-15 * std::exp(2 * std::abs(p.e1 - p.e2)))
        << p.e1 << ' ' << p.e2;
  }
}

TEST(LogStrain, GradientMatchesFiniteDifference) {
  for (const Principal& p : states()) {
    const Vector3d at = coordinates(metric_of(p.e1, p.e2, p.angle));
    LogStrain log;
    ASSERT_TRUE(log_strain(at, log));
    const double smallest = std::exp(2 * std::min(p.e1, p.e2));
    const auto value = [](const VectorXd& x) -> VectorXd {
      LogStrain l;
      EXPECT_TRUE(log_strain(x, l));
      return l.value();
    };
    const auto difference = test::difference_jacobian(value, at, VectorXd::Constant(3, 1e-3 * smallest));
    EXPECT_LT(test::relative_difference(log.gradient(), difference), 1e-9) << p.e1 << ' ' << p.e2;
  }
}

TEST(LogStrain, ContractedHessianMatchesFiniteDifferenceAndIsSymmetric) {
  const Vector3d stress(310, -170, 240);
  for (const Principal& p : states()) {
    const Vector3d at = coordinates(metric_of(p.e1, p.e2, p.angle));
    LogStrain log;
    ASSERT_TRUE(log_strain(at, log));
    const double smallest = std::exp(2 * std::min(p.e1, p.e2));
    const auto slope = [&](const VectorXd& x) -> VectorXd {
      LogStrain l;
      EXPECT_TRUE(log_strain(x, l));
      return l.gradient().transpose() * stress;
    };
    const auto difference = test::difference_jacobian(slope, at, VectorXd::Constant(3, 1e-3 * smallest));
    EXPECT_LT(test::relative_difference(log.contracted_hessian(stress), difference), 1e-9)
        << p.e1 << ' ' << p.e2;
  }
}

TEST(LogStrain, AtanhQuotientHoldsItsDigitsOnBothBranches) {
  for (double r : {0.0, 1e-18, 1e-9, 1e-4, 0.01, 0.0299999, 0.03, 0.0300001, 0.1, 0.3, 0.5}) {
    long double value = 0;
    long double first = 0;
    long double second = 0;
    for (int k = 120; k >= 0; --k) {  // the power series in long double, 0.5^120 = 1e-36
      const long double c = 1.0L / (2 * k + 1);
      value += c * std::pow(static_cast<long double>(r), k);
      if (k >= 1) first += k * c * std::pow(static_cast<long double>(r), k - 1);
      if (k >= 2) second += k * (k - 1) * c * std::pow(static_cast<long double>(r), k - 2);
    }
    const AtanhQuotient f = atanh_quotient(r);
    EXPECT_NEAR(f.value, static_cast<double>(value), 1e-15 * f.value) << r;
    EXPECT_NEAR(f.first, static_cast<double>(first), 2e-14 * f.first) << r;
    EXPECT_NEAR(f.second, static_cast<double>(second), 1e-12 * f.second) << r;
  }
}

TEST(LogStrain, RefusesAMetricThatIsNotPositiveDefinite) {
  LogStrain log;
  EXPECT_FALSE(log_strain({1, 1, 0}, log));       // eigenvalues 2, 0
  EXPECT_FALSE(log_strain({1, 0.9, 0.5}, log));   // one negative
  EXPECT_FALSE(log_strain({-1, 0.1, 0.1}, log));  // both negative: the determinant alone would pass
  EXPECT_FALSE(log_strain({std::nan(""), 0, 0}, log));
  EXPECT_TRUE(log_strain({1, 0.9999, 0}, log));
}

}  // namespace
}  // namespace halftool::solver
