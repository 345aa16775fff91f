#include "io/figures/limit_chart.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::io {
namespace {

/// A curve with its valley at plane strain (invented slopes).
LimitCurve curve_with(double engineering) {
  LimitCurve curve;
  const double valley = std::log1p(engineering);
  curve.points = {{-0.5, valley + 0.5}, {0, valley}, {0.5, valley + 0.25}};
  return curve;
}

TEST(LimitChart, SampledCurveIsTheSolversLimit) {
  solver::EstimatedLimit limit;
  limit.plane_strain = 0.3;
  const LimitCurve curve = sample_limit(limit, "estimate");
  for (const Eigen::Vector2d& p : curve.points) {
    EXPECT_DOUBLE_EQ(p.y(), solver::limit_major(limit, p.x()));
    // A state on the curve lies where the bands change, and uses the whole share.
    if (std::abs(p.x()) < 0.25) {
      EXPECT_EQ(band_of(curve, {1.0001 * p.y(), 1.0001 * p.x()}), Band::over);
      EXPECT_EQ(band_of(curve, {0.9999 * p.y(), 0.9999 * p.x()}), Band::close);
      EXPECT_NEAR(solver::limit_share(limit, p.y(), p.x()), 1, 1e-9);
    }
  }
}

TEST(LimitChart, ComputedCurveIsDrawnThroughItsPointsWithoutDots) {
  solver::ComputedLimit limit;
  limit.points = {{-0.1, 0.3}, {0, 0.2}, {0.2, 0.3}};     // invented
  limit.unpressed = {{-0.1, 0.2}, {0, 0.1}, {0.2, 0.2}};  // invented
  const LimitCurve curve = sample_limit(limit, "computed");
  EXPECT_EQ(curve.points, limit.points);
  EXPECT_EQ(curve.unpressed, limit.unpressed);
  EXPECT_TRUE(curve.measured.empty());
}

TEST(LimitChart, MarginLiesTenPointsBelowTheCurve) {
  // At plane strain 0.62 of the limit for a curve at 24.9 %, 0.76 at 37.4 %: ln(1.149)/ln(1.249),
  // ln(1.274)/ln(1.374).
  for (const auto& [engineering, share] : {std::pair(0.249, 0.62), std::pair(0.374, 0.76)}) {
    const LimitCurve curve = curve_with(engineering);
    EXPECT_NEAR(margin_line(curve)[1].y() / curve.points[1].y(), share, 0.005);
  }
}

TEST(LimitChart, BandsChangeWhereTheLinesAre) {
  const LimitCurve curve = curve_with(0.249);
  const double limit = std::log(1.249), margin = std::log(1.149);
  const auto at = [&](double major) { return band_of(curve, {major, 0}); };
  EXPECT_EQ(at(limit * 1.001), Band::over);
  EXPECT_EQ(at(limit * 0.999), Band::close);
  EXPECT_EQ(at(margin + 0.001 * limit), Band::close);
  EXPECT_EQ(at(margin - 0.001 * limit), Band::worked);
  EXPECT_EQ(at(margin - 0.149 * limit), Band::worked);
  EXPECT_EQ(at(margin - 0.151 * limit), Band::roomy);
}

TEST(LimitChart, BandsFollowTheStrainPath) {
  // On the path minor = -major / 2 the curve valley - minor is met at major = 2 valley.
  const LimitCurve curve = curve_with(0.249);
  const double meet = 2 * std::log(1.249);
  EXPECT_EQ(band_of(curve, {1.001 * meet, -0.5005 * meet}), Band::over);
  EXPECT_EQ(band_of(curve, {0.999 * meet, -0.4995 * meet}), Band::close);
}

TEST(LimitChart, ShrinkingMetalIsRoomy) {
  EXPECT_EQ(band_of(curve_with(0.249), {-0.01, -0.1}), Band::roomy);
  EXPECT_EQ(band_of(curve_with(0.249), {0.01, -0.2}), Band::roomy);  // the path misses the curve
}

}  // namespace
}  // namespace halftool::io
