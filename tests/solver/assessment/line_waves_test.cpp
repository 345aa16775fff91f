// Waves of lines of known shape, sampled unevenly; exact, no source needed.
#include "solver/assessment/line_waves.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <random>

namespace halftool::solver {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kLength = 200;  // [mm]
constexpr double kLeast = 0.05;  // [mm]

/// A shape over a length of the line, its samples shifted by up to 0.4 of their distance.
HeightLine sampled(const std::function<double(double)>& shape, int n = 160, bool closed = false) {
  std::mt19937 generator(5);
  std::uniform_real_distribution<double> shift(-0.4, 0.4);
  HeightLine line;
  line.along.resize(n);
  line.height.resize(n);
  const double step = kLength / (closed ? n : n - 1);
  for (int i = 0; i < n; ++i) {
    const bool end = !closed && (i == 0 || i == n - 1);
    line.along(i) = step * (i + (end ? 0 : shift(generator)));
    line.height(i) = shape(line.along(i));
  }
  if (closed) line.period = kLength;
  return line;
}

double highest(const std::vector<Wave>& waves) {
  double height = 0;
  for (const Wave& wave : waves) height = std::max(height, wave.height);
  return height;
}

class SineWaves : public testing::TestWithParam<int> {};
INSTANTIATE_TEST_SUITE_P(Counts, SineWaves, testing::Values(3, 5, 9));

TEST_P(SineWaves, OnARing) {
  const int n = GetParam();
  const auto waves = find_waves(
      sampled([n](double s) { return 7 + 0.5 * std::sin(2 * kPi * n * s / kLength); }, 160, true), kLeast);
  ASSERT_EQ(std::ssize(waves), n);
  for (const Wave& wave : waves) {
    EXPECT_NEAR(wave.height, 1, 0.06);  // crest and valley fall between samples
    EXPECT_NEAR(wave.length, kLength / n, 0.06 * kLength / n + 2);
  }
}

// Beside the ends a valley is only as deep as the end.
TEST_P(SineWaves, OnALineWithEnds) {
  const int n = GetParam();
  const auto waves =
      find_waves(sampled([n](double s) { return 0.5 * std::sin(2 * kPi * n * s / kLength); }), kLeast);
  ASSERT_EQ(std::ssize(waves), n);
  EXPECT_NEAR(highest(waves), 1, 0.08);
}

TEST_P(SineWaves, OnATiltedBentLine) {
  const int n = GetParam();
  const auto waves = find_waves(
      sampled([n](double s) { return 0.03 * s - 5e-5 * s * s + 0.5 * std::sin(2 * kPi * n * s / kLength); }),
      kLeast);
  ASSERT_EQ(std::ssize(waves), n);
  EXPECT_NEAR(highest(waves), 1, 0.08);
}

// Half of the line up to a plane of symmetry gives the waves of that half, with that on the plane.
TEST_P(SineWaves, BesideAMirror) {
  const int n = GetParam();
  HeightLine line = sampled([n](double s) { return 0.5 * std::cos(2 * kPi * (n - 0.5) * s / kLength); });
  line.starts_on_mirror = true;
  const auto waves = find_waves(line, kLeast);
  ASSERT_EQ(std::ssize(waves), n);
  EXPECT_EQ(waves.front().crest, 0);
  EXPECT_NEAR(waves.front().height, 1, 0.08);
  EXPECT_NEAR(waves.front().length, kLength / (n - 0.5), 0.1 * kLength / n + 2);
}

// A quarter of a ring between two planes; crests on both.
TEST_P(SineWaves, BetweenTwoMirrors) {
  const int n = GetParam();
  HeightLine line = sampled([n](double s) { return 0.5 * std::cos(2 * kPi * n * s / kLength); });
  line.starts_on_mirror = line.ends_on_mirror = true;
  const auto waves = find_waves(line, kLeast);
  ASSERT_EQ(std::ssize(waves), n + 1);
  EXPECT_NEAR(waves.front().height, 1, 0.06);
  EXPECT_NEAR(waves.back().height, 1, 0.06);
}

TEST(LineWaves, NoneOnSmoothLines) {
  EXPECT_TRUE(find_waves(sampled([](double) { return 3.0; }), kLeast).empty());
  EXPECT_TRUE(find_waves(sampled([](double s) { return 0.3 * s; }), kLeast).empty());
  EXPECT_TRUE(find_waves(sampled([](double s) { return 1e-3 * (s - 90) * (s - 90); }), kLeast).empty());
  EXPECT_TRUE(find_waves(sampled([](double) { return 3.0; }, 160, true), kLeast).empty());
}

// A lifted end is no wave.
TEST(LineWaves, NoneAtLiftedEnds) {
  const auto lifted = [](double s) { return 2 * std::exp(-s / 15) + 2 * std::exp(-(kLength - s) / 15); };
  for (const Wave& wave : find_waves(sampled(lifted), kLeast))
    ADD_FAILURE() << "wave " << wave.height << " mm high at sample " << wave.crest;
}

TEST(LineWaves, OneOnABumpToOneSide) {
  const auto bump = [](double s) { return 0.8 * std::exp(-std::pow((s - 130) / 8, 2)); };
  const HeightLine line = sampled(bump);
  const auto waves = find_waves(line, kLeast);
  ASSERT_EQ(std::ssize(waves), 1);
  EXPECT_NEAR(waves[0].height, 0.8, 0.03);
  EXPECT_NEAR(waves[0].length, 4 * 8 * std::sqrt(std::log(2.0)), 3);
  EXPECT_NEAR(line.along(waves[0].crest), 130, 2);
}

TEST(LineWaves, LowerThanTheLeastCountNot) {
  const auto low = [](double s) { return 0.024 * std::sin(2 * kPi * 5 * s / kLength); };
  EXPECT_TRUE(find_waves(sampled(low), kLeast).empty());
  EXPECT_EQ(std::ssize(find_waves(sampled(low), 0.02)), 5);
}

// Of z = H/2 cos(2 pi x/L) the curvature is H/2 (2 pi/L)^2.
TEST(LineWaves, BendingStrainOfASine) {
  const double number = 2 * kPi / 30;
  EXPECT_NEAR(bending_strain({0.4, 30, 0}, 1.6), 0.8 * 0.2 * number * number, 1e-12);
}

}  // namespace
}  // namespace halftool::solver
