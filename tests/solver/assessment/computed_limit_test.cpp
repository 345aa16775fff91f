#include "solver/assessment/computed_limit.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace halftool::solver {
namespace {

constexpr double kAcross = std::numbers::pi / 2;

SheetMaterial metal(YieldCondition yield = {}, double n = 0.2) {
  SheetMaterial material;
  material.youngs_modulus = 7e4;
  material.poissons_ratio = 0.33;
  material.hardening = SwiftHardening{400, 0.002, n};
  material.yield = yield;
  return material;
}
Yld2000 isotropic(double exponent) {
  Yld2000 yield;
  yield.exponent = exponent;
  return yield;
}

TEST(StraightPath, HasItsRatioAlongAndAcrossRolling) {
  const GrooveMetal hill = groove_metal(metal(RValues{0.6, 0.8, 1.9}));
  for (const double along : {0.0, kAcross})
    for (const double ratio : {-0.6, -0.3, 0.0, 0.4, 1.0}) {
      const StraightPath path = straight_path(hill.yield, ratio, along);
      const double side = along == 0 ? 1 : -1;
      EXPECT_NEAR(path.flow[0] + side * path.flow[1], path.major, 1e-12);
      EXPECT_NEAR(path.flow[0] - side * path.flow[1], ratio * path.major, 1e-9);
      EXPECT_GT(path.major, 0);
      EXPECT_NEAR(path.stress.dot(path.flow), 1, 1e-12);  // work of a unit of equivalent plastic strain
    }
}

TEST(ComputedLimit, AtPlaneStrainAloneIsThatOfTheCurve) {
  for (const SheetMaterial& sheet : {metal(), metal(RValues{0.6, 0.8, 1.9}), metal(isotropic(8))})
    EXPECT_EQ(computed_plane_strain(sheet, 0.005), limit_major(computed_limit(sheet, 0.005), 0));
}

TEST(GrooveLimit, ConvergesAsStepsAreHalved) {
  const GrooveMetal mises = groove_metal(metal());
  for (const double ratio : {-0.25, 0.0, 0.5, 1.0}) {
    const StraightPath path = straight_path(mises.yield, ratio, 0);
    const Groove groove{0.01, ratio < 0 ? 0.35 : 0};
    const auto limit = [&](double step) {
      const auto strain = groove_limit(mises, path, groove, {step});
      return strain ? path.major * *strain : -1.0;
    };
    const double fine = limit(0.0003125);
    const double error = std::abs(limit(0.02) - fine);
    const double next = std::abs(limit(0.005) - fine);
    EXPECT_LT(next, std::max(0.35 * error, 3e-5)) << ratio;
    EXPECT_LT(next, 5e-4) << ratio;
  }
}

TEST(GrooveLimit, FallsWithTheImperfection) {
  const GrooveMetal mises = groove_metal(metal());
  for (const double ratio : {-0.4, 0.0, 0.6}) {
    double last = 0;
    for (const double imperfection : {0.05, 0.01, 0.001}) {
      const double limit = path_limit(mises, ratio, 0, imperfection);
      EXPECT_GT(limit, last) << ratio;
      last = limit;
    }
  }
}

// On the left an oblique groove is the worst, on the right one across (Hutchinson and Neale 1978).
TEST(GrooveLimit, ObliqueGrooveGovernsTheLeftOnly) {
  const GrooveMetal mises = groove_metal(metal());
  for (const double ratio : {-0.4, 0.5}) {
    const StraightPath path = straight_path(mises.yield, ratio, 0);
    const double across = path.major * groove_limit(mises, path, {0.005, 0}, {0.005}).value();
    const double least = path_limit(mises, ratio, 0, 0.005);
    if (ratio < 0)
      EXPECT_LT(least, 0.95 * across);
    else
      EXPECT_NEAR(least, across, 1e-3);
  }
}

TEST(ComputedLimit, IsTheSameForOneYieldConditionInThreeForms) {
  const auto mises = computed_limit(metal(), 0.005);
  for (const YieldCondition& same : {YieldCondition(RValues{1, 1, 1}), YieldCondition(isotropic(2))}) {
    const auto other = computed_limit(metal(same), 0.005);
    ASSERT_EQ(other.points.size(), mises.points.size());
    for (std::size_t i = 0; i < mises.points.size(); ++i)
      EXPECT_NEAR(other.points[i].y(), mises.points[i].y(), 2e-4) << i;
  }
}

// Marciniak, Kuczynski and Pokora 1973 explain the direction: plane strain lies nearer to equibiaxial stress
// on a sharper yield locus; Graf and Hosford, Metall. Trans. A 21 (1990) 87-94 compute it for exponent 8.
TEST(ComputedLimit, EquibiaxialLimitFallsWithTheExponent) {
  double last = 1;
  for (const double exponent : {2.0, 6.0, 8.0}) {
    const GrooveMetal sheet = groove_metal(metal(isotropic(exponent)));
    const double limit = path_limit(sheet, 1, 0, 0.005);
    EXPECT_LT(limit, 0.9 * last) << exponent;
    last = limit;
    EXPECT_NEAR(path_limit(sheet, 0, 0, 0.005), path_limit(groove_metal(metal()), 0, 0, 0.005), 2e-4);
  }
}

// Predicted, not measured: 65 % more in plane strain for an aluminium alloy of another hardening at a normal
// stress as high as its yield stress (an excerpt of a paper whose authors are not known to us).
TEST(ComputedLimit, NormalPressureRaisesEveryPathAndKeepsTheCurveWithoutIt) {
  const auto none = computed_limit(metal(), 0.005);
  EXPECT_TRUE(none.unpressed.empty());
  const double proof = most_normal_pressure(metal());
  const auto half = computed_limit(metal(), 0.005, 1, 0.5 * proof);
  const auto full = computed_limit(metal(), 0.005, 1, proof);
  EXPECT_EQ(half.unpressed, none.points);
  ASSERT_EQ(full.points.size(), none.points.size());
  for (std::size_t i = 0; i < none.points.size(); ++i) {
    EXPECT_GT(half.points[i].y(), none.points[i].y()) << i;
    EXPECT_GT(full.points[i].y(), half.points[i].y()) << i;
  }
  const double gain = limit_major(FormingLimit(full), 0) / limit_major(FormingLimit(none), 0);
  EXPECT_GT(gain, 1.4);
  EXPECT_LT(gain, 1.9);
  EXPECT_THROW((void)computed_limit(metal(), 0.005, 1, 1.01 * proof), std::invalid_argument);
}

TEST(ComputedLimit, RunsFromBeyondUniaxialToEquibiaxialTension) {
  const auto curve = computed_limit(metal(RValues{1.8, 1.3, 2.2}), 0.005);
  // uniaxial tension across rolling: minor over major -r/(1 + r)
  EXPECT_LT(curve.points.front().x() / curve.points.front().y(), -2.2 / 3.2);
  EXPECT_DOUBLE_EQ(curve.points.back().x(), curve.points.back().y());
  for (std::size_t i = 0; i + 1 < curve.points.size(); ++i)
    EXPECT_LT(curve.points[i].x(), curve.points[i + 1].x());
}

TEST(ComputedLimit, JudgesAlongItsPaths) {
  const FormingLimit limit = computed_limit(metal(), 0.005);
  for (const Eigen::Vector2d& point : std::get<ComputedLimit>(limit).points) {
    EXPECT_NEAR(limit_share(limit, point.y(), point.x()), 1, 1e-9);
    EXPECT_NEAR(limit_share(limit, 0.5 * point.y(), 0.5 * point.x()), 0.5, 1e-9);
  }
  EXPECT_TRUE(std::isnan(limit_share(limit, 0.1, -0.08)));
}

TEST(ComputedLimit, MetalThatNecksAtYieldHasNoRoomOnTheLeft) {
  SheetMaterial perfect = metal();
  perfect.hardening = VoceHardening{200, 200, 0};
  const FormingLimit limit = computed_limit(perfect, 0.005);
  EXPECT_GT(limit_share(limit, 0.01, 0), 10);
  EXPECT_GT(limit_share(limit, 0.01, -0.004), 10);
}

TEST(ComputedLimit, KinematicHardeningIsThatOfItsTensileTest) {
  SheetMaterial moving = metal();
  moving.hardening = VoceHardening{150, 150, 0};
  moving.backstress = {{3000, 12}};
  SheetMaterial same = metal();
  same.hardening = VoceHardening{150, 150 + 3000.0 / 12, 12};  // 150 + C/gamma (1 - exp(-gamma e))
  const auto a = computed_limit(moving, 0.005);
  const auto b = computed_limit(same, 0.005);
  for (std::size_t i = 0; i < a.points.size(); ++i) EXPECT_NEAR(a.points[i].y(), b.points[i].y(), 1e-3) << i;
}

TEST(ComputedLimit, RisesWithTheRateSensitivityAndTakesNoneBelowZero) {
  SheetMaterial sheet = metal(RValues{1.8, 1.3, 2.2});
  std::vector<ComputedLimit> curves = {computed_limit(sheet, 0.005)};
  for (const double m : {-0.01, 0.005, 0.02}) {
    sheet.strain_rate = StrainRate{std::nullopt, std::nullopt, m};
    curves.push_back(computed_limit(sheet, 0.005));
    EXPECT_EQ(curves.back().rate_exponent, std::max(0.0, m));
    for (std::size_t i = 0; i < curves.front().points.size(); ++i) {
      const double rise = curves.back().points[i].y() - curves[curves.size() - 2].points[i].y();
      if (m < 0)
        EXPECT_EQ(rise, 0);
      else
        EXPECT_GT(rise, 0.005);
    }
  }
  // the rates of press and test are no matter of the groove
  sheet.strain_rate = StrainRate{1, 0.001, 0.02};
  const auto pressed = computed_limit(sheet, 0.005);
  for (std::size_t i = 0; i < pressed.points.size(); ++i)
    EXPECT_NEAR(pressed.points[i].y(), curves.back().points[i].y(), 1e-9);
}

// At the start the sheet strains hundreds of powers of ten more slowly than a deep groove.
TEST(GrooveLimit, DeepGrooveOfLittleRateSensitivityFindsItsBalance) {
  SheetMaterial sheet = metal(Yld2000{8, {0.4865, 1.3783, 0.7536, 1.0246, 1.0363, 0.9036, 1.2321, 1.4858}});
  sheet.hardening = SwiftHardening{646, 0.025, 0.227};  // strongly anisotropic: 2090-T3
  GrooveMetal grooved = groove_metal(sheet);
  for (const double ratio : {-0.3, 0.05, 0.5, 1.0}) {
    grooved.rate_exponent = 0;
    double last = path_limit(grooved, ratio, 0, 0.1);
    for (const double m : {1e-5, 1e-4, 1e-3}) {
      grooved.rate_exponent = m;
      const double limit = path_limit(grooved, ratio, 0, 0.1);
      EXPECT_GT(limit, 0.99 * last) << ratio << ' ' << m;
      EXPECT_LT(limit, 1.1 * last) << ratio << ' ' << m;
      last = limit;
    }
  }
}

TEST(ComputedLimit, RefusesAnImperfectionOutOfRange) {
  for (const double imperfection : {0.0, -0.01, 0.5, std::nan("")})
    EXPECT_THROW((void)computed_limit(metal(), imperfection), std::invalid_argument);
}

}  // namespace
}  // namespace halftool::solver
