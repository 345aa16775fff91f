// Strip drawn over a cylinder with friction (capstan), and bent over it under a constant tension.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "tests/support/reference_sheets.hpp"
#include "tests/verification/drawn_strip.hpp"
#include "tests/verification/stretch_bend.hpp"

namespace halftool::test {
namespace {

TEST(Capstan, ForceGrowsExponentially) {
  for (const double friction : {0.1, 0.3}) {
    Capstan setup;
    setup.friction = friction;
    const CapstanDraw draw = draw_over(setup);
    const double ratio = draw.ratio;
    EXPECT_NEAR(ratio / std::exp(friction * setup.wrap), 1, 0.002) << friction;  // measured below 0.0005
    ASSERT_EQ(draw.pressures.size(), 8);
    for (const Eigen::Vector3d& at : draw.pressures)
      EXPECT_NEAR(at[1] / at[2], 1, 0.03) << "friction " << friction << ", angle " << at[0];
    testing::Test::RecordProperty("ratio_" + std::to_string(friction), std::to_string(ratio));
  }
}

TEST(StretchBend, TensionLowersTheMomentAsInTheFibres) {
  StretchBend setup;
  setup.material = soft_aluminium();
  setup.tension = 0.5;
  const StretchBendResult ours = stretch_bend(setup);
  const FibreStretchBend fibres = stretch_bend_fibres(setup);
  EXPECT_NEAR(ours.moment / fibres.moment, 1, 0.02);
  EXPECT_NEAR(ours.springback / fibres.springback, 1, 0.025);
  setup.tension = 0.1;
  EXPECT_LT(fibres.moment, 0.92 * stretch_bend_fibres(setup).moment);  // far above the tolerance
}

}  // namespace
}  // namespace halftool::test
