#include "solver/stepping/thinning_shift.hpp"

#include <gtest/gtest.h>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/reference_sheets.hpp"

namespace halftool::test {
namespace {

// Only the left half of a flat sheet touches. Where it does the sheet goes down by half of what it lost.
TEST(ThinningShift, FollowsTheToolFaceWhereTheSheetTouches) {
  const mesh::Blank blank = blank_of(rectangle(4, 2, 8, 4, Disorder{3}), 1.0);
  const solver::SheetModel model = solver::make_model(blank, soft_aluminium(), 3, true);
  const solver::SheetState before = solver::initial_state(model);
  solver::SheetState now = before;
  for (int t = 0; t < model.n_triangles(); ++t) {
    now.memory[t].thickness = 0.98 * before.memory[t].thickness;
    now.memory[t].friction.touching = now.memory[t].middle.x() < 2;
  }
  const solver::SheetPlace place =
      solver::moved(now.place, model.equations, solver::thinning_shift(model, before, now));
  int moved = 0;
  for (Eigen::Index node = 0; node < place.positions.rows(); ++node) {
    const Eigen::RowVector3d way = place.positions.row(node) - now.place.positions.row(node);
    const double x = now.place.positions(node, 0);
    EXPECT_NEAR(way.head<2>().norm(), 0, 1e-12);
    if (x < 1.2) {
      EXPECT_NEAR(way.z(), -0.01, 1e-12);
    } else if (x > 2.8) {
      EXPECT_EQ(way.z(), 0);
    }
    moved += way.z() < 0;
  }
  EXPECT_GT(moved, 10);
  EXPECT_LT(moved, place.positions.rows() - 10);
}

}  // namespace
}  // namespace halftool::test
