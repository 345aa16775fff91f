// Clamped sheet bulged freely with the volume leading: see bulge_path.hpp.
#include "tests/verification/bulge_path.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "tests/verification/bulge_membrane.hpp"

namespace halftool::test {
namespace {

// Hill's closed numbers: pole strain 0.5111 at the greatest pressure for n = 0.2, p a/(sigma t0) = 1.0251 at
// h/a = 0.4.
TEST(HillBulge, HasItsKnownNumbers) {
  EXPECT_NEAR(hill_summit({1, 1e-9, 0.2}), 0.5111, 2e-4);
  EXPECT_NEAR(hill_pressure(0.4), 1.0251, 1e-4);
  EXPECT_NEAR(hill_thickness_strain(0.4, 0), 0.29684, 1e-5);
}

// A thin sheet on a coarse mesh bulges far: the fluid must not bend it between its nodes.
TEST(FreeBulge, ThinSheetOfCoarseTrianglesBulgesFar) {
  FreeBulge setup;
  setup.material = {"", "", "", 207000, 0.3, solver::SwiftHardening{530, 0.001, 0.2}};
  setup.rings = 8;
  setup.last_thickness_strain = 0.5;
  setup.largest_motion = 2;
  const BulgePath path = bulge_freely(setup);
  EXPECT_EQ(path.broken_off, "");
  EXPECT_GT(-path.points.back().pole.thickness_strain, 0.5);
}

TEST(FreeBulge, PoleIsInMembraneEquilibriumAndNearTheMembrane) {
  FreeBulge setup;
  const solver::SwiftHardening law{530, 0.001, 0.2};
  setup.material = {"", "", "", 207000, 0.3, law};
  setup.thickness = 1;
  setup.rings = 24;
  setup.largest_motion = 1.5;
  setup.last_thickness_strain = 0.15;
  const BulgePath path = bulge_freely(setup);
  const BulgePoint& last = path.points.back();
  // Loose: 24 rings; bulge_test holds one percent on a fine dome.
  EXPECT_NEAR(borne_share(last.pole, last.pressure), 1, 0.02);
  EXPECT_NEAR(last.cap_balance, 1, 0.01);
  const double membrane = bulge_membrane(law, -last.pole.thickness_strain).pressure * law.strength *
                          setup.thickness / setup.semi_axes.x();
  // The membrane has no bending, takes the total-strain law and is a bound of size only.
  EXPECT_NEAR(last.pressure / membrane, 1, 0.08);
  EXPECT_NEAR(last.pole.stress.x() / last.pole.stress.y(), 1, 0.02);
}

}  // namespace
}  // namespace halftool::test
