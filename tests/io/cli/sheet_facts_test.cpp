#include "io/cli/sheet_facts.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/cli/job_summary.hpp"

namespace halftool::io {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const solver::TableHardening kTable{{{0, 60}, {0.05, 110}, {0.15, 140}}};

TEST(SheetFacts, SayHowATableGoesOn) {
  const auto text = sheet_facts({"demo", "", "", 70000, 0.33, kTable});
  EXPECT_THAT(text, HasSubstr("flow stress 60 MPa at first yield, 125 MPa at plastic strain 0.1"));
  // m = 300 * 0.15 / 140
  EXPECT_THAT(
      text,
      HasSubstr("3 points to plastic strain 0.15; beyond it 140 MPa times (plastic strain / 0.15)^0.3214"));
  EXPECT_THAT(text, Not(HasSubstr("Yld2000")));
}

TEST(SheetFacts, ShowWhatAFitGivesBackAndHowFarItMisses) {
  const solver::Yld2000Tests tests{8, {1, 0.8114, 0.9102, 1.0350}, {0.2115, 1.5769, 0.6923, 0.67}};
  const auto text = sheet_facts({"demo", "", "", 70000, 0.33, kTable, tests});
  EXPECT_THAT(text,
              HasSubstr("45 deg: yield 0.8114 given, 0.8114 returned; r 1.5769 given, 1.5769 returned"));
  EXPECT_THAT(text, HasSubstr("equibiaxial tension: yield 1.0350 of the flow stress, r 0.6700"));
  EXPECT_THAT(text, testing::ContainsRegex("largest miss [0-9.]+e-1[0-9]"));
}

// Hill (1948): F = 0.8/(0.54 * 1.8), G = 1/1.8, H = 0.8/1.8, N = 1.2; across rolling 1/sqrt(F + H), at 45
// degrees 2/sqrt(F + G + 2 N), in equibiaxial tension 1/sqrt(F + G).
TEST(SheetFacts, ShowTheYieldStressesThatFollowFromRValues) {
  const solver::RValues r{0.8, 0.37, 0.54};
  const auto text = sheet_facts({"demo", "", "", 70000, 0.33, kTable, r});
  EXPECT_THAT(text, HasSubstr("Hill 1948 from r-values 0.8, 0.37, 0.54"));
  EXPECT_THAT(text, HasSubstr("tension at  0 deg: yield 1.0000 of the flow stress, r 0.8000"));
  EXPECT_THAT(text, HasSubstr("tension at 45 deg: yield 1.0290 of the flow stress, r 0.3700"));
  EXPECT_THAT(text, HasSubstr("tension at 90 deg: yield 0.8882 of the flow stress, r 0.5400"));
  EXPECT_THAT(text, HasSubstr("equibiaxial tension: yield 0.8517 of the flow stress, r 1.4815"));
}

TEST(SheetFacts, NameTheYieldConditionInTheLineOfTrust) {
  EXPECT_THAT(yield_words(solver::VonMises{}), IsEmpty());
  EXPECT_THAT(yield_words(solver::RValues{0.8, 0.37, 0.54}), HasSubstr("Hill 1948 with r 0.8, 0.37, 0.54"));
  EXPECT_THAT(yield_words(solver::Yld2000{}), HasSubstr("Yld2000-2d with exponent 8"));
  EXPECT_THAT(yield_words(solver::Yld2000Tests{}), HasSubstr("fitted to tests"));
}

TEST(SheetFacts, SayWhichHardeningAndWhatSpringbackHasFromIt) {
  solver::SheetMaterial material{"demo", "", "", 206000, 0.3, solver::VoceHardening{200, 300, 10}};
  EXPECT_THAT(sheet_facts(material),
              HasSubstr("hardening isotropic: stress after reverse bending is overstated"));
  EXPECT_THAT(hardening_words(material), HasSubstr("Young's modulus constant"));
  material.backstress = {{3000, 30}};
  material.falling_modulus = solver::FallingModulus{159000, 61};
  EXPECT_THAT(hardening_words(material), HasSubstr("kinematic, one term of backstress"));
  EXPECT_THAT(hardening_words(material), HasSubstr("falls from 206 to 159 GPa"));
  // Size 300 - 100 exp(-1) and backstress 100 (1 - exp(-3)).
  EXPECT_THAT(sheet_facts(material), HasSubstr("358.2 MPa at plastic strain 0.1"));
  material.backstress.clear();
  material.hardening = solver::YoshidaUemoriHardening{124, 168, 9, 190, 12, 500, 0.5};
  EXPECT_THAT(hardening_words(material), HasSubstr("kinematic, two surfaces"));
  EXPECT_THAT(sheet_facts(material), HasSubstr("flow stress 124 MPa at first yield"));
  material.isotropic = true;
  EXPECT_THAT(sheet_facts(material), HasSubstr("isotropic, as asked for, with the tension curve of the "
                                               "kinematic constants: stress after reverse bending"));
  EXPECT_THAT(sheet_facts(material), HasSubstr("flow stress 124 MPa at first yield"));
}

TEST(SheetFacts, SayWhatTheStrainRateOfThePressBrings) {
  solver::SheetMaterial material{"demo", "", "", 206000, 0.3, solver::VoceHardening{200, 300, 10}};
  EXPECT_THAT(rate_words(material), IsEmpty());
  material.strain_rate = solver::StrainRate{1, 0.001, 0.02};
  EXPECT_THAT(sheet_facts(material),
              HasSubstr("flow stress 229.6 MPa at first yield"));  // 1000^0.02 = 1.1482
  EXPECT_THAT(sheet_facts(material), HasSubstr("flow stress times 1.1482 for a strain rate of 1 per second"));
  material.strain_rate = solver::StrainRate{std::nullopt, std::nullopt, 0.02};
  EXPECT_THAT(sheet_facts(material), HasSubstr("flow stress 200 MPa at first yield"));
  EXPECT_THAT(sheet_facts(material), HasSubstr("rate sensitivity m = 0.02 for a computed forming limit"));
}

TEST(SheetFacts, APartBeyondItsFlowCurveIsDoubted) {
  const solver::SheetMaterial material{"demo", "", "", 70000, 0.33, kTable};
  for (const double strain : {0.14, 0.16}) {
    Summary summary;
    summary.plastic_strain.value = strain;
    add_doubts(summary, material);
    std::string warnings;
    for (const auto& warning : summary.warnings) warnings += warning;
    EXPECT_EQ(warnings.find("beyond the flow curve's last point at 0.150") != std::string::npos,
              strain > 0.15);
  }
}

}  // namespace
}  // namespace halftool::io
