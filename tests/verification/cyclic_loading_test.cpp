#include "tests/verification/cyclic_loading.hpp"

#include <gtest/gtest.h>

#include "tests/support/kinematic_sheets.hpp"

namespace halftool::test {
namespace {

using solver::SheetMaterial;

TEST(CyclicLoading, LoopsOfBackstressAreTheClosedForm) {
  for (const SheetMaterial& material : {chaboche_steel(), three_term_steel()})
    for (const int n : {1, 7})
      EXPECT_LT(closed_form_miss(material, section_loop(material, {0.01, -0.01, 0.02, -0.015, 0.03}, n)),
                1e-9);
}

TEST(CyclicLoading, LoopSaturatesAtTheEndOfItsBackstress) {
  const SheetMaterial material = chaboche_steel();
  // Stress range of a wide loop: 2 (k + C/gamma).
  const auto loop = section_loop(material, {0.2, -0.2}, 10);
  EXPECT_NEAR(loop.at(9).stress, 300 + 500, 0.5);
  EXPECT_NEAR(loop.back().stress, -800, 0.5);
}

TEST(CyclicLoading, MeanStressMakesTheClosedFormsStepAtEachCycle) {
  const SheetMaterial material = chaboche_steel();
  for (const auto& [low, high] : {std::pair(-500.0, 600.0), std::pair(-450.0, 500.0)}) {
    const double expected = ratchet_step(material, low, high);
    EXPECT_GT(expected, 1e-3);
    EXPECT_NEAR(section_ratchet_step(material, low, high) / expected, 1, 1e-4);
  }
}

TEST(CyclicLoading, PublishedSheetsFollowTheirRateEquationsInTensionAndCompression) {
  const Corners corners = {0.05, -0.05, 0.05};
  for (const SheetMaterial& material : {chaboche_steel(), three_term_steel(), dp780(), mild_cyclic_steel()}) {
    const auto fine = integrated_loop(material, corners, 50, 100000);
    const auto coarse = integrated_loop(material, corners, 50, 50000);
    EXPECT_LT(loop_miss(coarse, fine), 2e-4);  // the reference itself
    EXPECT_LT(loop_miss(section_loop(material, corners, 50), fine), 0.03);
    // Smaller increments come nearer.
    EXPECT_LT(
        loop_miss(section_loop(material, corners, 1000), integrated_loop(material, corners, 1000, 100000)),
        2e-3);
  }
}

TEST(CyclicLoading, TensionCurveIsTheFirstLeg) {
  for (const SheetMaterial& material : {three_term_steel(), dp780()})
    for (const LoopPoint& at : integrated_loop(material, {0.3}, 40, 200000))
      EXPECT_NEAR(at.stress / solver::flow_stress(solver::tension_curve(material), at.flow_sum).stress, 1,
                  3e-4)
          << at.strain;
}

TEST(CyclicLoading, PathsThatTurnFollowTheRateEquationsInFullTensors) {
  for (const SheetMaterial& material : {chaboche_steel(), three_term_steel(), dp780(), mild_cyclic_steel()}) {
    const auto fine = integrated_path(material, turning_path(), 40000);
    const double coarse = path_miss(section_path(material, turning_path(), 25), fine);
    const double finer = path_miss(section_path(material, turning_path(), 400), fine);
    EXPECT_LT(coarse, 0.02);
    EXPECT_LT(finer, 2e-3);
  }
}

TEST(CyclicLoading, StripBentFlatAndBentAgainIsThatOfItsFibres) {
  const SheetMaterial material = three_term_steel();
  const BentAgain fibres = fibres_bent_again(material, 1, 10, 200, 40);
  const BentAgain section = section_bent_again(material, 1, 10, 99);
  EXPECT_NEAR(section.moment / fibres.moment, 1, 5e-3);
  EXPECT_NEAR(section.flat_moment / fibres.flat_moment, 1, 5e-3);
  EXPECT_NEAR(section.again_moment / fibres.again_moment, 1, 5e-3);
  EXPECT_NEAR(section.springback / fibres.springback, 1, 5e-3);
  // The first bend is that of the isotropic sheet of the same tension curve; after the reversal the strip is
  // softer, the more so the sooner: Bauschinger.
  SheetMaterial isotropic = material;
  isotropic.hardening = solver::tension_curve(material);
  isotropic.backstress.clear();
  const BentAgain stiff = section_bent_again(isotropic, 1, 10, 99);
  EXPECT_NEAR(section.moment / stiff.moment, 1, 2e-3);
  EXPECT_LT(-section.flat_moment, 0.95 * -stiff.flat_moment);
  EXPECT_LT(section.again_moment, 0.95 * stiff.again_moment);
  EXPECT_LT(section.springback, 0.95 * stiff.springback);
}

}  // namespace
}  // namespace halftool::test
