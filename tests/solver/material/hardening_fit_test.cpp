#include "solver/material/hardening_fit.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/material/hardening.hpp"
#include "tests/support/made_tensile_test.hpp"

namespace halftool::solver {
namespace {

using test::made_tensile_test;
using test::with_noise;

HardeningFit fit_of(const std::string& name, const TensileTest& test) {
  for (const auto& fit : fit_hardening(read_tensile_curve(test).flow))
    if (fit.name == name) return fit;
  return {};
}

template <class Law>
Law law_of(const std::string& name, const TensileTest& test) {
  const auto fit = fit_of(name, test);
  EXPECT_TRUE(fit.found);
  EXPECT_LT(fit.rms, 1e-5) << name;
  return std::get<Law>(fit.law);
}

void expect_within(double found, double made, double share) {
  EXPECT_NEAR(found, made, share * made);
}

constexpr double kExact = 1e-6;  // of each constant: the whole chain from engineering values on

TEST(HardeningFit, FindsTheConstantsOfAMadeTest) {
  const auto swift = law_of<SwiftHardening>(
      "Swift", made_tensile_test(SwiftHardening{565.32, 0.007117, 0.2589}, 206000, false));
  expect_within(swift.strength, 565.32, kExact);
  expect_within(swift.pre_strain, 0.007117, kExact);
  expect_within(swift.exponent, 0.2589, kExact);

  const auto voce =
      law_of<VoceHardening>("Voce", made_tensile_test(VoceHardening{140.2, 330.2, 12.4}, 70000, false));
  expect_within(voce.initial, 140.2, kExact);
  expect_within(voce.saturation, 330.2, kExact);
  expect_within(voce.rate, 12.4, kExact);

  const auto hollomon = law_of<HollomonHardening>(
      "Hollomon", made_tensile_test(HollomonHardening{530, 0.26, 210}, 207000, false));
  expect_within(hollomon.strength, 530, kExact);
  expect_within(hollomon.exponent, 0.26, kExact);
  expect_within(hollomon.initial, 210, kExact);

  const auto ludwik =
      law_of<LudwikHardening>("Ludwik", made_tensile_test(LudwikHardening{150, 400, 0.45}, 206000, false));
  expect_within(ludwik.initial, 150, kExact);
  expect_within(ludwik.strength, 400, kExact);
  expect_within(ludwik.exponent, 0.45, kExact);
}

TEST(HardeningFit, FindsTheShareOfABlendOfGivenLaws) {
  const SwiftHardening swift{565.32, 0.007117, 0.2589};
  const VoceHardening voce{170, 420, 9};
  for (const double share : {0.0, 0.35, 1.0}) {
    std::vector<FlowPoint> flow;
    for (int i = 0; i < 40; ++i) {
      const double strain = 0.002 + 0.01 * i;
      flow.push_back({strain, flow_stress(SwiftVoceHardening{share, swift, voce}, strain).stress});
    }
    EXPECT_NEAR(fit_swift_share(flow, swift, voce), share, 1e-12);
  }
}

TEST(HardeningFit, TheBlendIsWhicheverLawTheTestFollows) {
  const auto of_swift =
      fit_of("Swift-Voce", made_tensile_test(SwiftHardening{565.32, 0.007117, 0.2589}, 206000, true));
  EXPECT_NEAR(std::get<SwiftVoceHardening>(of_swift.law).swift_share, 1, 1e-6);
  const auto of_voce =
      fit_of("Swift-Voce", made_tensile_test(VoceHardening{140.2, 330.2, 12.4}, 70000, true));
  EXPECT_NEAR(std::get<SwiftVoceHardening>(of_voce.law).swift_share, 0, 1e-6);
}

// Noise of 1 MPa on every stress. The bounds are some four standard errors of a fit to 250 points.
TEST(HardeningFit, NoiseIsAveragedAndShowsAsTheResidual) {
  const auto test = with_noise(made_tensile_test(SwiftHardening{565.32, 0.007117, 0.2589}, 206000, false), 1);
  const auto curve = read_tensile_curve(test);
  expect_within(curve.modulus, 206000, 0.03);
  const auto fit = fit_of("Swift", test);
  const auto& swift = std::get<SwiftHardening>(fit.law);
  expect_within(swift.strength, 565.32, 0.006);
  expect_within(swift.exponent, 0.2589, 0.015);
  EXPECT_NEAR(fit.rms, 1.2, 0.3);  // true stress: up to 1.28 times the noise of engineering stress
  EXPECT_GT(std::abs(fit.greatest), 2 * fit.rms);
}

TEST(HardeningFit, AnotherLawsCurveLeavesAResidual) {
  const auto test = made_tensile_test(VoceHardening{140.2, 330.2, 12.4}, 70000, false);
  EXPECT_LT(fit_of("Voce", test).rms, 1e-6);
  EXPECT_GT(fit_of("Swift", test).rms, 0.5);
  EXPECT_GT(fit_of("Ludwik", test).rms, 0.5);
}

}  // namespace
}  // namespace halftool::solver
