// Balance is asked of every node, not of the sum over all alone.
#include <gtest/gtest.h>

#include "solver/stepping/increment.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr double kSide = 100;
constexpr int kCells = 12;
constexpr double kPressure = 0.01;
constexpr double kTolerance = 0.04;

// A square plate whose cells grow from one corner to the other, 0.7 to 16 mm.
mesh::Blank graded_plate() {
  mesh::SurfaceMesh mesh = rectangle(kSide, kSide, kCells, kCells);
  for (int axis : {0, 1}) mesh.nodes.col(axis) = mesh.nodes.col(axis).cwiseAbs2() / kSide;
  mesh::Blank blank = blank_of(mesh, 2);
  clamp_border(blank, [](int) { return true; });
  return blank;
}

struct Plate {
  mesh::Blank blank = graded_plate();
  solver::SheetModel model = elastic_model(blank, 70000, 0.3);
  solver::SheetState flat = solver::initial_state(model);
  solver::SolverSettings settings;
  solver::RunRecord record;
  solver::Loading loading;

  Plate() {
    settings.threads = 1;
    loading.pressure = kPressure;
    loading.edges_loaded = false;
  }

  solver::IncrementResult balanced(const solver::SheetPlace& from, double tolerance) {
    solver::IncrementSolver solver(model, settings, record);
    const Eigen::VectorXd gradient = Eigen::VectorXd::Zero(model.equations.count);
    return solver.solve(flat, {from, kPressure}, loading, {}, gradient, {tolerance, 1, 0, 0, false});
  }

  // Where a node stands off the balanced place, so far that the whole is out of balance by nine tenths of
  // what is allowed.
  solver::SheetPlace pulled(const solver::SheetPlace& balance, int node) {
    solver::IncrementSolver solver(model, settings, record);
    const auto out_of_balance = [&](double by) {
      solver::SheetPlace place = balance;
      place.positions(node, 2) += by;
      const solver::Balance there = solver.evaluate(flat, place, loading, false);
      return there.out_of_balance.norm() / (kPressure * there.pressure_force.norm());
    };
    solver::SheetPlace place = balance;
    place.positions(node, 2) += 1e-6 * 0.9 * kTolerance / out_of_balance(1e-6);
    return place;
  }
};

TEST(NodeBalance, ASmallNodeMayNotHideBehindLargeOnes) {
  Plate plate;
  const solver::IncrementResult rest = plate.balanced(plate.flat.place, 1e-6);
  ASSERT_TRUE(rest.converged) << rest.reason;
  const auto node_at = [&](double x, double y) {
    Eigen::Index nearest = 0;
    (plate.blank.mesh.nodes.rowwise() - Eigen::RowVector3d(x, y, 0))
        .rowwise()
        .squaredNorm()
        .minCoeff(&nearest);
    return static_cast<int>(nearest);
  };
  const auto iterations = [&](int node) {
    return plate.balanced(plate.pulled(rest.place, node), kTolerance).iterations;
  };
  EXPECT_GT(iterations(node_at(0.7, 0.7)), 0);
  EXPECT_EQ(iterations(node_at(84, 84)), 0);
}

}  // namespace
}  // namespace halftool::test
