// The section under pure bending of a wide sheet against the independent fibre-by-fibre reference: see
// wide_bending.hpp.
#include "tests/verification/wide_bending.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/fibre_bending.hpp"

namespace halftool::test {
namespace {

using solver::SheetMaterial;

/// What may differ between section and reference: 1e-4 for the quadrature of stress with kinks by 99 points,
/// and share (t/R)^2 for the net force. The section's inverse metric is frozen in the variation, so its force
/// weighs stress by (1 + k z + k^2 z^2)/(1 + k z) against the exact one; with the reference's force weighed
/// the same way all cases below agree to 8e-5 (measured once).
double allowed(double ratio, double share) {
  return 1e-4 + share / (ratio * ratio);
}

struct Case {
  SheetMaterial material;
  double ratio;
};

TEST(WideBending, AgreesWithTheFibreReferenceInLogarithmicStrain) {
  for (const Case& c : {Case{perfect(), 5}, Case{perfect(), 20}, Case{mild_steel(), 6.9},
                        Case{soft_aluminium(), 10}, Case{aa6016(), 3}, Case{aa6016(), 25}}) {
    const FibreBendResult reference = bend_and_release({c.material, 1, c.ratio});
    const SectionBendResult section = bend_section(c.material, 1, c.ratio, 99);
    EXPECT_NEAR(section.moment / reference.moment, 1, allowed(c.ratio, 0.01)) << c.ratio;
    EXPECT_NEAR(section.springback / reference.springback, 1, allowed(c.ratio, 0.01)) << c.ratio;
    EXPECT_NEAR(section.thickness / reference.thickness, 1, allowed(c.ratio, 0.005)) << c.ratio;
  }
}

TEST(WideBending, NormalStressShiftsTheBendAsInTheReference) {
  const double free = bend_and_release({soft_aluminium(), 1, 5}).moment;
  for (double inner : {0.0, 40.0, 80.0}) {
    const FibreBendResult reference =
        bend_and_release({soft_aluminium(), 1, 5, FibreStrain::logarithmic, 80, inner});
    EXPECT_GT(std::abs(reference.moment / free - 1),
              0.01);  // the effect under test is far above the tolerance
    const SectionBendResult section = bend_section(soft_aluminium(), 1, 5, 99, 80, inner);
    EXPECT_NEAR(section.moment / reference.moment, 1, allowed(5, 0.02));
    EXPECT_NEAR(section.springback / reference.springback, 1, allowed(5, 0.02));
  }
}

TEST(WideBending, StraightenedStripYieldsInReverseAsInTheReference) {
  for (const Case& c : {Case{perfect(), 10}, Case{soft_aluminium(), 5}, Case{aa6016(), 10}}) {
    const Straightened fibres = straighten_fibres(c.material, 1, c.ratio);
    const Straightened section = straighten_section(c.material, 1, c.ratio, 99);
    EXPECT_LT(fibres.moment, 0);
    EXPECT_NEAR(section.moment / fibres.moment, 1, allowed(c.ratio, 0.05)) << c.ratio;
    EXPECT_NEAR(section.turn / fibres.turn, 1, allowed(c.ratio, 0.05)) << c.ratio;
  }
}

TEST(WideBending, NinePointsHoldSpringbackOfHardeningSheetsToTwoPercent) {
  for (const SheetMaterial& material : {mild_steel(), soft_aluminium(), aa6016()})
    for (double ratio : {3.5, 5.0, 10.0, 20.0}) {
      FibreBend fibres{material, 1, ratio};
      fibres.n_fibres = 200;  // coarse and quick
      fibres.n_steps = 20;
      const double reference = bend_and_release(fibres).springback;
      EXPECT_LT(std::abs(bend_section(material, 1, ratio, 9).springback / reference - 1), 0.02) << ratio;
    }
}

}  // namespace
}  // namespace halftool::test
