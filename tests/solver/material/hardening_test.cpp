#include "solver/material/hardening.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace halftool::solver {
namespace {

const std::vector<Hardening> kCurves = {SwiftHardening{530, 0.005, 0.2}, SwiftHardening{600, 0.008, 0.22},
                                        VoceHardening{140.2, 330.2, 12.4}, VoceHardening{250, 250, 0},
                                        HollomonHardening{205, 0.2, 55}, LudwikHardening{120, 300, 0.45},
                                        SwiftVoceHardening{0.3, {530, 0.005, 0.2}, {140.2, 330.2, 12.4}},
                                        // plateau first, then hardening: not concave
                                        TableHardening{{{0, 210}, {0.015, 210}, {0.05, 280}, {0.2, 370}}}};

TEST(Hardening, SwiftMatchesTheTextbookExercise) {
  // Marciniak, Duncan and Hu (2002), exercise 2.1: 600 (0.008 + 0.218)^0.22 = 432.6 MPa.
  EXPECT_NEAR(flow_stress(SwiftHardening{600, 0.008, 0.22}, 0.218).stress, 432.6, 0.05);
}

TEST(Hardening, VoceStartsAndSaturatesWhereItSays) {
  const Hardening voce = VoceHardening{140.2, 330.2, 12.4};
  EXPECT_DOUBLE_EQ(flow_stress(voce, 0).stress, 140.2);
  EXPECT_NEAR(flow_stress(voce, 5).stress, 330.2, 1e-10);
  EXPECT_NEAR(flow_stress(voce, 0.1).stress, 330.2 - 190 * std::exp(-1.24), 1e-10);
}

TEST(Hardening, HollomonStartsAtItsFirstYieldAndIsThePowerLawOfTheTotalPlasticStrain) {
  const HollomonHardening hollomon{205, 0.2, 55};
  EXPECT_NEAR(flow_stress(Hardening(hollomon), 0).stress, 55, 1e-12);
  const double start = std::pow(55.0 / 205, 5);
  EXPECT_NEAR(flow_stress(Hardening(hollomon), 0.1).stress, 205 * std::pow(0.1 + start, 0.2), 1e-11);
}

TEST(Hardening, LudwikFollowsItsFormulaAndLeavesTheStartWithAFiniteSlope) {
  const LudwikHardening ludwik{120, 300, 0.45};
  EXPECT_EQ(flow_stress(ludwik, 0).stress, 120);
  EXPECT_LT(flow_stress(ludwik, 0).slope, 1e7);
  for (const double strain : {1e-6, 1e-3, 0.2, 1.0})
    EXPECT_NEAR(flow_stress(ludwik, strain).stress, 120 + 300 * std::pow(strain, 0.45), 1e-11);
  // Value and slope meet where the law takes over.
  const FlowStress below = flow_stress(ludwik, kLudwikStart * (1 - 1e-9));
  const FlowStress above = flow_stress(ludwik, kLudwikStart);
  EXPECT_NEAR(below.stress, above.stress, 1e-8);
  EXPECT_NEAR(below.slope / above.slope, 1, 1e-8);
}

TEST(Hardening, BlendLiesBetweenItsLaws) {
  const SwiftHardening swift{530, 0.005, 0.2};
  const VoceHardening voce{140.2, 330.2, 12.4};
  for (const double strain : {0.0, 0.03, 0.4}) {
    const double a = flow_stress(swift, strain).stress;
    const double b = flow_stress(voce, strain).stress;
    EXPECT_NEAR(flow_stress(SwiftVoceHardening{0.3, swift, voce}, strain).stress, 0.3 * a + 0.7 * b,
                1e-12 * a);
    EXPECT_EQ(flow_stress(SwiftVoceHardening{1, swift, voce}, strain).stress, a);
    EXPECT_EQ(flow_stress(SwiftVoceHardening{0, swift, voce}, strain).stress, b);
  }
}

TEST(Hardening, TableIsStraightBetweenItsPointsAndGoesOnAsAPowerLaw) {
  const FlowTable table(TableHardening{{{0, 210}, {0.05, 280}, {0.2, 370}}});
  EXPECT_EQ(table.at(0).stress, 210);
  EXPECT_NEAR(table.at(0.025).stress, 245, 1e-12);
  EXPECT_NEAR(table.at(0.05).stress, 280, 1e-12);
  EXPECT_NEAR(table.at(0.2).stress, 370, 1e-12);
  EXPECT_NEAR(table.exponent(), 600 * 0.2 / 370, 1e-14);
  EXPECT_NEAR(table.at(0.2 + 1e-9).slope, 600, 1e-5);
  EXPECT_NEAR(table.at(0.8).stress, 370 * std::pow(4, 600 * 0.2 / 370), 1e-10);
  const FlowTable level(TableHardening{{{0, 210}, {0.1, 210}}});
  EXPECT_EQ(level.at(0.5).stress, 210);
  EXPECT_EQ(level.at(0.5).slope, 0);
}

TEST(Hardening, TableThatIsNoCurveIsRefused) {
  const std::vector<std::vector<std::array<double, 2>>> wrong = {{},
                                                                 {{0, 200}},
                                                                 {{0.01, 200}, {0.1, 250}},
                                                                 {{0, 200}, {0.1, 250}, {0.1, 260}},
                                                                 {{0, 200}, {0.1, 250}, {0.2, 249}},
                                                                 {{0, 0}, {0.1, 250}},
                                                                 {{0, 200}, {0.1, std::nan("")}}};
  for (const auto& points : wrong) EXPECT_THROW(FlowTable(TableHardening{points}), std::invalid_argument);
}

TEST(Hardening, NoCurveFallsAndAllButTheTableAreConcave) {
  for (const Hardening& law : kCurves) {
    FlowStress before = flow_stress(law, 0);
    for (double strain = 1e-7; strain < 2; strain *= 1.2) {
      const FlowStress here = flow_stress(law, strain);
      EXPECT_GE(here.stress, before.stress);
      EXPECT_GE(here.slope, 0);
      if (!std::holds_alternative<TableHardening>(law)) {
        EXPECT_LE(here.slope, before.slope);
      }
      before = here;
    }
  }
}

TEST(Hardening, SlopeIsTheDerivative) {
  for (const Hardening& curve : kCurves)
    for (double strain : {0.001, 0.02, 0.3}) {
      const double h = 1e-5 * strain;
      const double difference =
          (flow_stress(curve, strain + h).stress - flow_stress(curve, strain - h).stress) / (2 * h);
      const FlowStress flow = flow_stress(curve, strain);
      EXPECT_NEAR(flow.slope, difference, 1e-6 * (flow.slope + flow.stress));
    }
}

TEST(Hardening, BendIsTheDerivativeOfTheSlope) {
  for (const Hardening& law : kCurves) {
    if (std::holds_alternative<TableHardening>(law)) continue;
    for (double strain : {0.001, 0.02, 0.3}) {
      const double h = 1e-5 * strain;
      const double difference =
          (flow_stress(law, strain + h).slope - flow_stress(law, strain - h).slope) / (2 * h);
      const FlowStress flow = flow_stress(law, strain);
      EXPECT_NEAR(flow.bend, difference, 1e-6 * (std::abs(flow.bend) + flow.slope));
    }
  }
}

TEST(Hardening, StepsOfAnIterationEndWhereTheLawIs) {
  for (const SwiftHardening swift : {SwiftHardening{530, 0.005, 0.2}, SwiftHardening{700, 1e-4, 0.6}})
    for (const double from : {0.0, 0.001, 0.3})
      for (const double part : {-0.0039, -1e-5, 1e-9, 0.0035, 0.0039, 0.004, 0.5}) {
        const double to = std::max(0.0, from + part * (swift.pre_strain + from));
        const FlowStress exact = flow_stress(swift, to);
        const FlowStress after = flow_stress_after(swift, flow_stress(swift, from), from, to);
        EXPECT_NEAR(after.stress / exact.stress, 1, 2e-15);
        EXPECT_NEAR(after.slope / exact.slope, 1, 2e-15);
        EXPECT_NEAR(after.bend / exact.bend, 1, 2e-15);
      }
}

TEST(Hardening, PlasticWorkIsTheIntegralOfTheFlowStress) {
  for (const Hardening& curve : kCurves) {
    const double end = 0.25;
    const int n = 20000;
    double sum = 0;
    for (int i = 0; i < n; ++i) sum += flow_stress(curve, (i + 0.5) * end / n).stress * end / n;
    const double work = std::visit(
        [&](const auto& c) {
          return plastic_work(c, end, flow_stress(c, end).stress, flow_stress(c, 0).stress);
        },
        flow_curve(curve));
    EXPECT_NEAR(work, sum, 1e-6 * sum);
  }
}

TEST(Hardening, SlopeOfPlasticWorkIsTheFlowStressFromTheFirstStrainOn) {
  for (const Hardening& law : kCurves)
    for (const double strain : {3e-7, 2e-6, 1e-3, 0.03, 0.4}) {
      const auto work = [&](double e) {
        return std::visit(
            [&](const auto& c) {
              return plastic_work(c, e, flow_stress(c, e).stress, flow_stress(c, 0).stress);
            },
            flow_curve(law));
      };
      const double h = 0.01 * strain;
      const double slope = (work(strain + h) - work(strain - h)) / (2 * h);
      EXPECT_NEAR(slope / flow_stress(law, strain).stress, 1, 2e-4);
    }
}

TEST(Hardening, UniformStrainIsWhereSlopeEqualsStress) {
  // Considere; Swift: n - eps0 (Marciniak, Duncan and Hu 2002, exercise 5.1).
  EXPECT_NEAR(uniform_strain(SwiftHardening{600, 0.008, 0.22}), 0.212, 1e-14);
  const Hardening voce = VoceHardening{140.2, 330.2, 12.4};
  const FlowStress flow = flow_stress(voce, uniform_strain(voce));
  EXPECT_GT(uniform_strain(voce), 0.1);
  EXPECT_NEAR(flow.slope, flow.stress, 1e-10 * flow.stress);
}

TEST(Hardening, UniformStrainIsWhereTheTensileLoadIsGreatest) {
  for (const Hardening& law : kCurves) {
    double best = 0;
    double greatest = 0;
    for (double strain = 0; strain < 1; strain += 1e-5) {
      const double load = flow_stress(law, strain).stress * std::exp(-strain);
      if (load > greatest) {
        greatest = load;
        best = strain;
      }
    }
    EXPECT_NEAR(uniform_strain(law), best, 2e-5);
  }
}

TEST(Hardening, SheetThatNecksAtYieldHasNoUniformStrain) {
  EXPECT_EQ(uniform_strain(SwiftHardening{500, 0.3, 0.2}), 0);
  EXPECT_EQ(uniform_strain(VoceHardening{250, 250, 0}), 0);
  EXPECT_EQ(uniform_strain(VoceHardening{250, 260, 5}), 0);
  EXPECT_EQ(uniform_strain(TableHardening{{{0, 250}, {0.1, 260}}}), 0);
  EXPECT_EQ(uniform_strain(SwiftVoceHardening{0.1, {500, 0.3, 0.2}, {250, 260, 5}}), 0);
}

}  // namespace
}  // namespace halftool::solver
