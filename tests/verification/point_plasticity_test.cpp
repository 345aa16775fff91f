// Plasticity at a point against closed forms, to 50 percent of logarithmic strain: see point_plasticity.hpp.
#include "tests/verification/point_plasticity.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/yld2000_sheets.hpp"

namespace halftool::test {
namespace {

constexpr double kStrain = 0.5;

class PointPlasticity : public testing::TestWithParam<int> {
 protected:
  [[nodiscard]] const PointSheet& sheet() const { return point_sheets().at(GetParam()); }
};
INSTANTIATE_TEST_SUITE_P(Sheets, PointPlasticity, testing::Range(0, 5));

class QuadraticYield : public PointPlasticity {};
INSTANTIATE_TEST_SUITE_P(Sheets, QuadraticYield, testing::Range(0, 3));

TEST_P(PointPlasticity, PathsFollowTheClosedFormInOneStepAndInAHundred) {
  for (const PointPath& path : point_paths(sheet()))
    for (const double s33 : {0.0, -100.0})
      for (const int n : {1, 100}) {
        SCOPED_TRACE(std::string(path.name) + " s33 " + std::to_string(s33) + " steps " + std::to_string(n));
        const PointEnd exact = exact_end(sheet(), path, kStrain, s33);
        const PointEnd end = drive(sheet(), path, kStrain, s33, n);
        EXPECT_LT((end.stress - exact.stress).norm(), 1e-9 * exact.stress.norm());
        EXPECT_LT((end.strain - exact.strain).norm(), 1e-11);
        EXPECT_LT((end.plastic - exact.plastic).norm(), 1e-11);
        EXPECT_NEAR(end.equivalent, exact.equivalent, 1e-11);
        EXPECT_NEAR(end.thickness_strain, exact.thickness_strain, 1e-11);
        EXPECT_NEAR(end.elastic_energy / exact.elastic_energy, 1, 1e-9);
        EXPECT_NEAR(end.plastic_work / exact.plastic_work, 1, 1e-9);
      }
}

TEST_P(PointPlasticity, WorkDoneIsStoredOrDissipated) {
  // Trapezoidal work on exact states: its error falls with the square of the step.
  for (const PointPath& path : point_paths(sheet())) {
    SCOPED_TRACE(path.name);
    const auto imbalance = [&](int n) {
      const PointEnd end = drive(sheet(), path, kStrain, -100, n);
      return std::abs(end.work / (end.elastic_energy + end.plastic_work) - 1);
    };
    const double coarse = imbalance(250);
    const double fine = imbalance(1000);
    EXPECT_LT(fine, 1e-5);
    EXPECT_NEAR(std::log(coarse / fine) / std::log(4), 2, 0.5);
  }
}

TEST_P(PointPlasticity, HeldWidthFollowsTheRateEquations) {
  // The ratio of stresses changes from the elastic to the plastic one: one implicit step of 50 percent errs,
  // a hundred err less. Where the yield surface turns sharply (Yld2000-2d) the one step errs by more.
  const Eigen::Vector3d strain(kStrain, 0, 0);
  const PointEnd exact = integrate_strain(sheet(), strain, 20000);
  const auto error = [&](int n) {
    return (drive_strain(sheet(), strain, n).stress - exact.stress).norm() / exact.stress.norm();
  };
  const bool sharp = std::holds_alternative<solver::Yld2000>(sheet().material.yield);
  EXPECT_LT(error(1), sharp ? 6e-3 : 2e-3);
  EXPECT_LT(error(100), 2e-4);
}

TEST_P(QuadraticYield, RValuesAreReturned) {
  const auto* given = std::get_if<solver::RValues>(&sheet().material.yield);
  const auto r = given != nullptr ? *given : solver::RValues{};
  const double expected[] = {r.r0, r.r45, r.r90};
  const auto paths = point_paths(sheet());
  for (int i = 0; i < 3; ++i) {
    const PointEnd end = drive(sheet(), paths.at(i), kStrain, 0, 10);
    const double c = std::cos(i * std::numbers::pi / 4);
    const double s = std::sin(i * std::numbers::pi / 4);
    const double width = s * s * end.plastic[0] + c * c * end.plastic[1] - c * s * end.plastic[2];
    EXPECT_NEAR(-width / (end.plastic[0] + end.plastic[1]), expected[i], 1e-9) << 45 * i;
  }
}

/// Yield stress over the flow stress and r-value of tension, through the solver's stress update.
struct Pulled {
  double ratio, r_value;
};
Pulled pull(const PointSheet& sheet, double degrees) {
  const double angle = degrees * std::numbers::pi / 180;
  const PointEnd end = drive(sheet, tension(angle), 0.1, 0, 1);
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  const double along = c * c * end.stress[0] + s * s * end.stress[1] + 2 * c * s * end.stress[2];
  const double width = s * s * end.plastic[0] + c * c * end.plastic[1] - c * s * end.plastic[2];
  return {along / solver::flow_stress(sheet.material.hardening, end.equivalent).stress,
          -width / (end.plastic[0] + end.plastic[1])};
}

TEST(PointPlasticityHill, YieldStressAndRValueOfAA6022AtEveryAngle) {
  for (const HillAngle& row : kHillAA6022) {
    const Pulled ours = pull(point_sheets().at(2), row.degrees);
    EXPECT_NEAR(ours.ratio, row.stress, 6e-5);
    EXPECT_NEAR(ours.r_value, row.r, 6e-5);
  }
}

TEST(PointPlasticityYld2000, YieldStressAndRValueOfPublishedCoefficientsAtEveryAngle) {
  for (const Yld2000Sheet& published : yld2000_sheets()) {
    SCOPED_TRACE(published.name);
    const PointSheet sheet{published.name,
                           {"", "", "", 70000, 0.33, solver::VoceHardening{200, 400, 8}, published.yield}};
    for (std::size_t i = 0; i < published.ratio.size(); ++i) {
      const Pulled ours = pull(sheet, 15.0 * static_cast<double>(i));
      EXPECT_NEAR(ours.ratio, published.ratio.at(i), published.ratio_print);
      EXPECT_NEAR(ours.r_value, published.r_value.at(i), published.r_print);
    }
    const PointEnd balanced = drive(sheet, point_paths(sheet).at(4), 0.1, 0, 1);
    EXPECT_NEAR(
        balanced.stress[0] / solver::flow_stress(sheet.material.hardening, balanced.equivalent).stress,
        published.equibiaxial, published.ratio_print);
  }
}

}  // namespace
}  // namespace halftool::test
