// The shell sees Hill's anisotropy along its rolling direction: a homogeneous stretch of an irregular patch
// must give in every triangle what the stress update gives at a point in the axes of the material. Exact.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/verification/point_plasticity.hpp"

namespace halftool::test {
namespace {

class RollingDirection : public testing::TestWithParam<int> {};
INSTANTIATE_TEST_SUITE_P(Degrees, RollingDirection, testing::Values(0, 30, 45, 90, 200));

TEST_P(RollingDirection, TurnsTheAxesOfYield) {
  constexpr double kAlong = 0.08;
  constexpr double kAcross = -0.02;
  constexpr int kSteps = 5;
  constexpr int kLayers = 3;
  const double angle = GetParam() * std::numbers::pi / 180;
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  const PointSheet& sheet = point_sheets().back();
  mesh::Blank blank = blank_of(rectangle(10, 10, 4, 4, {1, 0.3}), 1);
  blank.rim_held = true;
  blank.rolling_direction = {c, s};
  const solver::SheetModel model = solver::make_model(blank, sheet.material, kLayers, true);
  solver::Tolerances tolerances;
  tolerances.reference_force = 200 * blank.thickness * 10;
  tolerances.force = 1e-10;

  solver::SheetState state = solver::initial_state(model);
  for (int step = 1; step <= kSteps; ++step) {
    const double share = static_cast<double>(step) / kSteps;
    solver::SheetPlace guess = state.place;
    guess.positions.col(0) = std::exp(share * kAlong) * blank.mesh.nodes.col(0);
    guess.positions.col(1) = std::exp(share * kAcross) * blank.mesh.nodes.col(1);
    const auto found = solve_free(model, state, guess, tolerances);
    ASSERT_TRUE(found.converged) << found.reason << " " << found.out_of_balance;
    state = solver::accept(model, state, found.place, found.balance, 0);
  }

  const Eigen::Vector3d strain(c * c * kAlong + s * s * kAcross, s * s * kAlong + c * c * kAcross,
                               2 * c * s * (kAcross - kAlong));
  const PointEnd point = drive_strain(sheet, strain, kSteps);
  EXPECT_GT(point.equivalent, 0.05);
  for (int t = 0; t < model.n_triangles(); ++t) {
    for (int layer = 0; layer < kLayers; ++layer) {
      const solver::PointState& metal = state.points[static_cast<std::size_t>(t) * kLayers + layer];
      EXPECT_NEAR(metal.equivalent_plastic_strain, point.equivalent, 1e-9);
      EXPECT_LT((metal.plastic_strain - point.plastic).norm(), 1e-9);
    }
    EXPECT_NEAR(state.memory[t].thickness, std::exp(point.thickness_strain), 1e-9);
  }
}

}  // namespace
}  // namespace halftool::test
