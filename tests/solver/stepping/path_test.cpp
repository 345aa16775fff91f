#include "solver/stepping/path.hpp"

#include <gtest/gtest.h>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/reference_sheets.hpp"

namespace halftool::test {
namespace {

/// A flat sheet whose nodes go down by a law of the displaced volume: what the path sees of a pressing.
class PathTest : public ::testing::Test {
 protected:
  solver::SheetModel model =
      solver::make_model(blank_of(rectangle(2, 2, 2, 2, Disorder{1}), 1.0), soft_aluminium(), 3, true);
  solver::SolverSettings settings;
  solver::Path path{model.equations, settings, 1.0};
  solver::SheetState state = solver::initial_state(model);
  Eigen::VectorXd shift = Eigen::VectorXd::Constant(model.equations.count, 1e-3);

  [[nodiscard]] solver::SheetPlace lowered(double depth) const {
    solver::SheetPlace place = solver::initial_state(model).place;
    place.positions.col(2).array() -= depth;
    return place;
  }

  void accept(double volume, double depth, double pressure, int iterations = 0) {
    solver::IncrementResult result;
    result.converged = true;
    result.place = lowered(depth);
    result.pressure = pressure;
    result.volume = volume;
    result.iterations = iterations;
    path.accepted(state, result, shift);
    state.place = result.place;
    state.pressure = pressure;
  }

  static double depth_of(const solver::Guess& guess, const solver::SheetState& state) {
    return state.place.positions(0, 2) - guess.place.positions(0, 2);
  }
};

// Depth v^2 of the volume v: the second order foretells it, the first goes along the last chord.
TEST_F(PathTest, PredictsByBothOrders) {
  accept(1, 0.1, 0.01);
  ASSERT_EQ(path.next(state, 100).guesses.size(), 1U);
  accept(1, 0.4, 0.02);
  const solver::Path::Attempt attempt = path.next(state, 100);
  const double step = attempt.control.volume;
  ASSERT_EQ(attempt.guesses.size(), 2U);
  EXPECT_NEAR(depth_of(attempt.guesses[0], state), 0.1 * (2 + step) * (2 + step) - 0.4, 1e-9);
  EXPECT_NEAR(depth_of(attempt.guesses[1], state), 0.3 * step, 1e-9);
}

// A pair of triangles that buckles against each other leaves motion and pressure small.
TEST_F(PathTest, RefusesAnIncrementInWhichAPointStrainsTooMuch) {
  solver::IncrementResult result;
  result.converged = true;
  result.place = lowered(0.1);
  result.pressure = 0.05;
  result.balance.points = state.points;
  result.balance.points.back().equivalent_plastic_strain += 0.1;
  EXPECT_TRUE(path.acceptable(state, result, 100));
  result.balance.points.back().equivalent_plastic_strain += 0.1;
  EXPECT_FALSE(path.acceptable(state, result, 100));
  for (int i = 0; i < 4; ++i) path.cut();
  EXPECT_TRUE(path.acceptable(state, result, 100));  // no shorter increment helps
}

TEST_F(PathTest, StartsFromTheShiftedPlaceAfterACutAndARestart) {
  accept(1, 0.1, 0.01);
  accept(1, 0.2, 0.02);
  EXPECT_TRUE(path.may_shorten());
  ASSERT_TRUE(path.cut());
  for (const char* when : {"cut", "restart"}) {
    const solver::Path::Attempt attempt = path.next(state, 100);
    ASSERT_EQ(attempt.guesses.size(), 1U) << when;
    const Eigen::VectorXd change = solver::difference(attempt.guesses[0].place, state.place, model.equations);
    EXPECT_NEAR((change - shift).norm(), 0, 1e-12) << when;
    EXPECT_FALSE(path.may_shorten()) << when;  // a shorter increment would start from the same place
    path.restart(0.5);
  }
  EXPECT_EQ(path.next(state, 100).control.volume, 0.5);
}

// Two long increments in which the pressure grew and next to nothing moved: until something gives way.
TEST_F(PathTest, PredictsNoMoreOnceLedAstray) {
  const double moved = 0.05 * settings.largest_motion;
  double depth = 0, pressure = 21;
  const auto go = [&](int iterations) { accept(1, depth += moved, pressure += 1.2, iterations); };
  go(3);
  go(9);
  go(8);
  go(9);
  EXPECT_FALSE(path.pressure_leads());
  EXPECT_EQ(path.next(state, 100).guesses.size(), 2U);
  go(9);
  ASSERT_TRUE(path.pressure_leads());
  const solver::Path::Attempt attempt = path.next(state, 100);
  ASSERT_EQ(attempt.guesses.size(), 1U);
  EXPECT_NEAR(depth_of(attempt.guesses[0], state), -1e-3, 1e-12);
  EXPECT_NEAR(attempt.guesses[0].pressure, pressure + 1.2, 0.15);  // no sudden leap
  EXPECT_FALSE(path.may_shorten());
  for (int i = 0; i < 3; ++i) ASSERT_TRUE(path.cut());
  ASSERT_FALSE(path.pressure_leads());
  go(9);
  EXPECT_TRUE(path.may_shorten());
}

// A pad's share in a hollow follows the last accepted shape.
TEST_F(PathTest, AlwaysPredictsWhereToldTo) {
  path = solver::Path(model.equations, settings, 1.0, true);
  for (int i = 0; i < 5; ++i) accept(1, 0.05 * settings.largest_motion * (1 + i), 21 + 1.2 * i, 9);
  EXPECT_FALSE(path.pressure_leads());
  EXPECT_EQ(path.next(state, 100).guesses.size(), 2U);
}

// Many iterations shorten what follows, but not while the sheet has hardly moved.
TEST_F(PathTest, HurriesOnWhileTheSheetSetsOut) {
  const auto next = [this] { return path.next(state, 100).control.volume; };
  accept(1, 0.02 * settings.largest_motion, 0.01, 40);
  EXPECT_NEAR(next(), 0.8, 1e-12);
  accept(1, 0.05 * settings.largest_motion, 0.01, 40);
  EXPECT_NEAR(next(), 1.7, 1e-12);
  accept(1, 0.3 * settings.largest_motion, 0.02, 40);
  EXPECT_NEAR(next(), 1.7, 1e-12);
  accept(1, 0.31 * settings.largest_motion, 0.03, 40);
  EXPECT_NEAR(next(), 0.8, 1e-12);
}

TEST_F(PathTest, ShortensAFewTimesOnly) {
  accept(1, 0.1, 0.01);
  int times = 0;
  for (; path.may_shorten() && times < 100; ++times) path.shorten();
  EXPECT_GT(times, 1);
  EXPECT_LT(times, 10);
  accept(0.1, 0.11, 0.011);
  EXPECT_TRUE(path.may_shorten());
}

}  // namespace
}  // namespace halftool::test
