#include "io/figures/frame.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace halftool::io {
namespace {

using testing::DoubleNear;
using testing::ElementsAre;

TEST(Ticks, AreRoundAndCoverTheRange) {
  EXPECT_THAT(ticks(0, 24.7, 6), ElementsAre(0, 5, 10, 15, 20, 25));
  EXPECT_THAT(ticks(0, 1, 5), ElementsAre(0, DoubleNear(0.2, 1e-12), DoubleNear(0.4, 1e-12),
                                          DoubleNear(0.6, 1e-12), DoubleNear(0.8, 1e-12), 1));
  EXPECT_THAT(ticks(-3.1, 12, 4), ElementsAre(-5, 0, 5, 10, 15));
}

TEST(Ticks, HoldAtAnyMagnitude) {
  for (const double high : {1e-7, 3.3e-4, 0.7, 19.0, 4.2e6}) {
    const std::vector<double> values = ticks(0, high, 6);
    EXPECT_LE(values.size(), 8U) << high;
    EXPECT_GE(values.size(), 4U) << high;
    EXPECT_GE(values.back(), high * (1 - 1e-9));
  }
}

TEST(Ticks, LabelsTellThemApart) {
  EXPECT_EQ(tick_label(0.15, 0.05), "0.15");
  EXPECT_EQ(tick_label(-1e-17, 0.05), "0.00");
  EXPECT_EQ(tick_label(20, 5), "20");
  EXPECT_EQ(tick_label(0.3, 0.1), "0.3");
}

}  // namespace
}  // namespace halftool::io
