#include "solver/material/tensile_curve.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

#include "tests/support/made_tensile_test.hpp"

namespace halftool::solver {
namespace {

using test::made_tensile_test;

const Hardening kSwift = SwiftHardening{565.32, 0.007117, 0.2589};
const double kUniform = 0.2589 - 0.007117;  // plastic strain at the greatest load, Considere 1885

TEST(TensileCurve, FindsModulusYieldAndGreatestLoad) {
  for (const bool true_values : {true, false}) {
    const auto curve = read_tensile_curve(made_tensile_test(kSwift, 206000, true_values));
    EXPECT_NEAR(curve.modulus, 206000, 1e-6 * 206000);
    EXPECT_NEAR(curve.zero_strain, 0, 1e-12);
    const double at_offset = flow_stress(kSwift, 0.002).stress;
    EXPECT_NEAR(curve.offset_yield, at_offset * std::exp(-0.002 - at_offset / 206000), 1e-6);
    EXPECT_EQ(curve.flow.front().plastic_strain, 0.002);
    EXPECT_NEAR(curve.flow.back().plastic_strain, kUniform, 0.001);  // the next point of the test
    // K n^n over the section that has shrunk by plastic and elastic strain: the greatest load over the first
    // one
    const double stress = 565.32 * std::pow(0.2589, 0.2589);
    EXPECT_NEAR(curve.tensile_strength, stress * std::exp(-kUniform - stress / 206000), 0.01);
    EXPECT_GT(curve.n_necked, 200);
  }
}

// The made test is read point by point; the law's own strengths need no points.
TEST(TensileCurve, StrengthsOfALawAreThoseOfItsTest) {
  const auto curve = read_tensile_curve(made_tensile_test(kSwift, 206000, true));
  const auto strengths = strengths_of(kSwift, 206000);
  EXPECT_NEAR(strengths.offset_yield, curve.offset_yield, 1e-6);
  EXPECT_NEAR(strengths.tensile_strength, curve.tensile_strength, 0.01);
}

TEST(TensileCurve, TakesAnExtensometerThatBeganElsewhereOff) {
  const auto plain = read_tensile_curve(made_tensile_test(kSwift, 206000, true));
  const auto shifted = read_tensile_curve(made_tensile_test(kSwift, 206000, true, 0.004));
  EXPECT_NEAR(shifted.zero_strain, 0.004, 1e-10);
  EXPECT_NEAR(shifted.uniform_strain, plain.uniform_strain, 1e-10);
  EXPECT_NEAR(shifted.offset_yield, plain.offset_yield * std::exp(-0.004), 1e-3);
}

TEST(TensileCurve, TakesAGivenModulus) {
  auto test = made_tensile_test(kSwift, 206000, true);
  test.points.erase(test.points.begin() + 1, test.points.begin() + 12);  // no elastic part
  EXPECT_THROW(read_tensile_curve(test), std::invalid_argument);
  const auto curve = read_tensile_curve(test, 206000);
  EXPECT_TRUE(curve.modulus_given);
  EXPECT_NEAR(curve.flow.at(10).stress, flow_stress(kSwift, curve.flow.at(10).plastic_strain).stress, 1e-6);
}

// Crosshead travel: machine and toe strain with the specimen. With the specimen's own modulus given, yield
// and flow curve are those of the same test read at the specimen.
TEST(TensileCurve, TakesOffWhatTheMachineGaveBesideAGivenModulus) {
  const auto at_specimen = read_tensile_curve(made_tensile_test(kSwift, 206000, false));
  auto test = made_tensile_test(kSwift, 206000, false, 0.003);
  for (auto& point : test.points) point.strain += point.stress * (1 / 15000.0 - 1 / 206000.0);
  const auto curve = read_tensile_curve(test, 206000);
  EXPECT_NEAR(curve.slope, 15000, 0.02 * 15000);  // true stress over true strain, 2 e steeper at a strain e
  EXPECT_NEAR(curve.offset_yield, at_specimen.offset_yield, 1e-3 * at_specimen.offset_yield);
  EXPECT_NEAR(curve.uniform_strain, at_specimen.uniform_strain, 1e-3 * at_specimen.uniform_strain);
  for (const std::size_t i : {10U, 100U, 200U})
    EXPECT_NEAR(curve.flow.at(i).stress, flow_stress(kSwift, curve.flow.at(i).plastic_strain).stress,
                2e-3 * curve.flow.at(i).stress);
}

TEST(TensileCurve, ATestThatEndsBeforeItsGreatestLoadLosesNothing) {
  auto test = made_tensile_test(kSwift, 206000, false);
  test.points.resize(100);
  EXPECT_EQ(read_tensile_curve(test).n_necked, 0);
}

/// A test at one load, 300 MPa, up to a plastic strain, from there of Swift's law less what it has over that
/// there.
TensileTest with_plateau(double end) {
  const double rest = 300 * (1 + end) - flow_stress(kSwift, end).stress;
  TensileTest test{{}, true};
  for (int i = 0; i < 20; ++i) test.points.push_back({15.0 * i / 206000, 15.0 * i});
  for (int i = 0; i < 500; ++i) {
    const double plastic = 0.0005 * i;
    const double stress = plastic < end ? 300 * (1 + plastic) : flow_stress(kSwift, plastic).stress + rest;
    test.points.push_back({plastic + stress / 206000, stress});
  }
  return test;
}

// Bands that cross the specimen at one load: engineering stress stands, and the metal's curve begins behind.
TEST(TensileCurve, LeavesAYieldPlateauOutOfTheFlowCurve) {
  const auto curve = read_tensile_curve(with_plateau(0.02));
  EXPECT_NEAR(curve.plateau, 0.02, 0.004);
  EXPECT_GT(curve.flow.front().plastic_strain, 0.019);
  EXPECT_NEAR(curve.offset_yield, 300, 1);
  const auto short_one = read_tensile_curve(with_plateau(0.004));  // ends within what a law bends by
  EXPECT_EQ(short_one.plateau, 0);
  EXPECT_EQ(short_one.flow.front().plastic_strain, 0.002);
}

// Little hardening, or hardening that begins slowly, is none.
TEST(TensileCurve, TakesALawForNoPlateau) {
  for (const Hardening& law :
       {kSwift, Hardening(HollomonHardening{700, 0.03, 500}), Hardening(VoceHardening{300, 568, 3.1}),
        Hardening(VoceHardening{300, 330, 60})})
    EXPECT_EQ(read_tensile_curve(made_tensile_test(law, 206000, true)).plateau, 0);
}

TEST(TensileCurve, TellsHowSureTheSlopeIs) {
  EXPECT_LT(read_tensile_curve(made_tensile_test(kSwift, 206000, true)).slope_error, 1e-6);
  const auto noisy =
      read_tensile_curve(test::with_noise(made_tensile_test(kSwift, 206000, true), 2)).slope_error;
  EXPECT_GT(noisy, 0.001);
  EXPECT_LT(noisy, 0.2);
}

TEST(TensileCurve, RefusesWhatIsNoTest) {
  const auto whole = made_tensile_test(kSwift, 206000, true);
  auto test = whole;
  test.points.resize(5);
  EXPECT_THROW(read_tensile_curve(test), std::invalid_argument);  // too few points
  test = whole;
  test.points.resize(12);
  EXPECT_THROW(read_tensile_curve(test), std::invalid_argument);  // elastic only
  test = whole;
  for (auto& point : test.points) point.strain *= 100;
  EXPECT_THROW(read_tensile_curve(test), std::invalid_argument);  // strains in percent: 2 GPa
}

// A reading that stands alone above the curve would cut the test off there.
TEST(TensileCurve, RefusesAPeakBehindWhichTheStressRisesAgain) {
  auto test = made_tensile_test(kSwift, 206000, false);
  const double plain = test.points[100].stress;
  test.points[100].stress = 1.5 * plain;
  try {
    read_tensile_curve(test);
    ADD_FAILURE() << "accepted";
  } catch (const TensileError& error) {
    EXPECT_NE(std::string(error.what()).find("rise again"), std::string::npos) << error.what();
    EXPECT_NE(error.mend.find("bad reading"), std::string::npos) << error.mend;
  }
  // the readings behind fracture stay what they are: a fall to nothing, and noise
  test.points[100].stress = plain;
  for (const double share : {0.05, 0.01, 0.02, 0.015})
    test.points.push_back({test.points.back().strain + 1e-3, share * plain});
  EXPECT_NO_THROW(read_tensile_curve(test));
  // and so does scatter in the neck
  EXPECT_NO_THROW(read_tensile_curve(test::with_noise(made_tensile_test(kSwift, 206000, false), 4)));
}

TEST(TensileCurve, RefusesReadingsStifferThanAnyMetalAlsoBesideAModulus) {
  auto test = made_tensile_test(kSwift, 206000, false);
  for (auto& point : test.points) point.strain /= 100;  // ratios under a heading of percent
  EXPECT_THROW(read_tensile_curve(test), TensileError);
  EXPECT_THROW(read_tensile_curve(test, 206000), TensileError);
}

// Load and gauge length of a round specimen of type 304 stainless steel, 12.7 mm in diameter, 50.8 mm long:
// exercise table of Beyenir, A Brief Introduction to Engineering Computation with MATLAB (2011). What it must
// give by hand: 69.67 kN over 126.677 mm2, and the slope of its first points, 4.890 kN per 0.0102 mm.
TEST(TensileCurve, ReadsAPublishedTableOfStainlessSteel) {
  const std::vector<std::pair<double, double>> table = {
      {0.000, 50.8000},  {4.890, 50.8102},  {9.779, 50.8203},  {14.670, 50.8305}, {19.560, 50.8406},
      {24.450, 50.8508}, {27.620, 50.8610}, {29.390, 50.8711}, {32.680, 50.9016}, {33.950, 50.9270},
      {34.580, 50.9524}, {35.220, 50.9778}, {35.720, 51.0032}, {40.540, 51.816},  {48.390, 53.340},
      {59.030, 55.880},  {65.870, 58.420},  {69.420, 60.960},  {69.670, 61.468},  {68.150, 63.500},
      {60.810, 66.040}};
  const double area = std::numbers::pi * 12.7 * 12.7 / 4;
  TensileTest test;
  for (const auto& [load, length] : table) test.points.push_back({length / 50.8 - 1, 1000 * load / area});
  const auto curve = read_tensile_curve(test);
  EXPECT_NEAR(curve.tensile_strength, 549.98, 0.01);
  EXPECT_NEAR(curve.modulus, 1000 * 4.890 / area / (0.0102 / 50.8), 0.01 * curve.modulus);
  EXPECT_NEAR(curve.uniform_strain, std::log(61.468 / 50.8), 1e-4);
  EXPECT_EQ(curve.n_necked, 2);
  // by hand between the readings at 34.580 and 35.220 kN: plastic engineering strain 0.00158 and 0.00205
  EXPECT_NEAR(curve.offset_yield, 277.5, 0.5);
}

}  // namespace
}  // namespace halftool::solver
