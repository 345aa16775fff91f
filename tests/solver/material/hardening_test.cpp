#include "solver/material/hardening.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace halftool::solver {
namespace {

const std::vector<Hardening> kCurves = {SwiftHardening{530, 0.005, 0.2}, SwiftHardening{600, 0.008, 0.22},
                                        VoceHardening{140.2, 330.2, 12.4}, VoceHardening{250, 250, 0}};

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

TEST(Hardening, PlasticWorkIsTheIntegralOfTheFlowStress) {
  for (const Hardening& curve : kCurves) {
    const double end = 0.25;
    const int n = 20000;
    double sum = 0;
    for (int i = 0; i < n; ++i) sum += flow_stress(curve, (i + 0.5) * end / n).stress * end / n;
    const double work =
        std::visit([&](const auto& c) { return plastic_work(c, end, flow_stress(c, end).stress); }, curve);
    EXPECT_NEAR(work, sum, 1e-7 * sum);
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

TEST(Hardening, SheetThatNecksAtYieldHasNoUniformStrain) {
  EXPECT_EQ(uniform_strain(SwiftHardening{500, 0.3, 0.2}), 0);
  EXPECT_EQ(uniform_strain(VoceHardening{250, 250, 0}), 0);
  EXPECT_EQ(uniform_strain(VoceHardening{250, 260, 5}), 0);
}

}  // namespace
}  // namespace halftool::solver
