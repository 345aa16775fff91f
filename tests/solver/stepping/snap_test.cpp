// Tangents under which the sheet would run away by itself, told from those that the fluid's volume holds.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/stepping/increment.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

solver::SolverSettings one_thread() {
  solver::SolverSettings settings;
  settings.threads = 1;
  return settings;
}

// A strip clamped at one end and compressed at the other.
struct Column {
  static constexpr double kLength = 10;
  static constexpr double kStiffness = 100;  // in bending, E t^3 / 12 [N mm]
  // Euler 1744; Timoshenko and Gere 1961, section 2.1
  static constexpr double kEuler = std::numbers::pi * std::numbers::pi * kStiffness / (4 * kLength * kLength);

  static bool is_unstable(double share_of_euler) {
    mesh::Blank blank = blank_of(rectangle(kLength, 1, 16, 2), 0.1);
    clamp_border(blank, [&](int node) { return blank.mesh.nodes(node, 0) < 1e-9; });
    const solver::SheetModel model = elastic_model(blank, 1.2e6, 0);
    const auto end =
        border_edges(blank, [&](int node) { return blank.mesh.nodes(node, 0) > kLength - 1e-9; });
    const solver::SheetState straight = solver::initial_state(model);
    solver::SheetPlace bent = straight.place;
    bent.positions.col(2) += 1e-4 * bent.positions.col(0).cwiseAbs2();
    solver::RunRecord record;
    solver::IncrementSolver solver(model, one_thread(), record);
    solver.set_dead_load(edge_force(model, end, {-share_of_euler * kEuler, 0, 0}));
    solver::Loading loading;
    loading.edges_loaded = false;
    solver::Tolerances tolerances{1e-12, 1e-9, kEuler, 0, false};
    const Eigen::VectorXd gradient = Eigen::VectorXd::Zero(model.equations.count);
    return solver.solve(straight, {bent, 0}, loading, {}, gradient, tolerances).unstable;
  }
};

TEST(Snap, AColumnIsStableBelowEulersLoadAndUnstableAbove) {
  EXPECT_FALSE(Column::is_unstable(0.9));
  EXPECT_TRUE(Column::is_unstable(1.1));
}

// A shallow roof on hinges, pressed by the fluid past its greatest pressure.
class Roof : public ::testing::Test {
 protected:
  Roof() {
    loading_.edges_loaded = false;
    loading_.normal_stress = false;
  }

  static solver::SheetModel hinged(const mesh::Blank& blank) {
    solver::SheetModel model = elastic_model(blank, 3102.75, 0.3);
    const double rim = kRadius * std::sin(kHalfAngle);
    hold(model, {symmetry_plane(0), symmetry_plane(1),
                 hinge([rim](const Eigen::Vector3d& x) { return x.x() > rim - 1e-6; })});
    return model;
  }

  solver::IncrementResult press(const solver::Control& control, double pressure) {
    solver::Loading loading = loading_;
    loading.pressure = pressure;
    const Eigen::VectorXd gradient = solver_.evaluate(state_, state_.place, loading, false).pressure_force;
    return solver_.solve(state_, {state_.place, pressure}, loading, control, gradient,
                         {1e-4, 1e-3, 0, 1e-3, true});
  }
  void take(const solver::IncrementResult& result) {
    state_ = solver::accept(model_, state_, result.place, result.balance, result.pressure);
  }

  static constexpr double kRadius = 2540;
  static constexpr double kHalfAngle = 0.1;
  mesh::Blank blank_ =
      blank_of(mapped(rectangle(kHalfAngle, 254, 6, 2),
                      [](const Eigen::Vector3d& at) -> Eigen::Vector3d {
                        return {kRadius * std::sin(at.x()), at.y(), kRadius * std::cos(at.x())};
                      }),
               12.7);
  solver::SheetModel model_ = hinged(blank_);
  solver::Loading loading_;
  solver::RunRecord record_;
  solver::IncrementSolver solver_{model_, one_thread(), record_};
  solver::SheetState state_ = solver::initial_state(model_);
};

TEST_F(Roof, TheVolumeHoldsWhatThePressureAloneDoesNot) {
  const double area = kRadius * kHalfAngle * 254;
  double greatest = 0;
  solver::SheetState last;
  while (state_.pressure >= greatest) {
    last = state_;
    greatest = state_.pressure;
    const auto result = press({solver::Control::Kind::volume, 0.5 * area}, state_.pressure);
    ASSERT_TRUE(result.converged) << result.reason << " at " << state_.pressure << " MPa";
    EXPECT_FALSE(result.unstable);
    take(result);
  }
  const auto beyond = press({solver::Control::Kind::volume, 0.5 * area}, state_.pressure);
  EXPECT_LT(beyond.pressure, state_.pressure);
  EXPECT_FALSE(beyond.unstable);
  EXPECT_GT(record_.indefinite_factorisations, 0);
  // the same place with the pressure given
  EXPECT_TRUE(press({}, 0.99 * state_.pressure).unstable);
}

}  // namespace
}  // namespace halftool::test
