// Patch test of the membrane: a sheet whose border is given a homogeneous stretch must take it up inside,
// whatever its triangles. Exact, at small and at large strain; no source needed.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <ostream>
#include <string>
#include <tuple>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace {

using namespace halftool;
using namespace halftool::test;

constexpr double kSide = 1;
constexpr double kModulus = 2e5;

struct Strain {
  std::string name;
  Eigen::Matrix2d gradient;  // of the displacement
  int steps = 1;             // in which the border is moved
};

void PrintTo(const Strain& strain, std::ostream* out) {
  *out << strain.name;
}

class MembranePatch : public testing::TestWithParam<std::tuple<unsigned, Strain>> {};
INSTANTIATE_TEST_SUITE_P(
    SeedsAndStrains, MembranePatch,
    testing::Combine(testing::Values(1U, 2U, 3U),
                     testing::Values(Strain{"Stretch", Eigen::Matrix2d{{1e-3, 0}, {0, -3e-4}}},
                                     Strain{"Shear", Eigen::Matrix2d{{0, 1e-3}, {1e-3, 0}}},
                                     Strain{"General", Eigen::Matrix2d{{7e-4, 2e-4}, {-9e-4, 5e-4}}},
                                     Strain{"Large", Eigen::Matrix2d{{0.15, 0.05}, {-0.02, 0.08}}, 10})),
    [](const auto& test) {
      return std::get<1>(test.param).name + "Seed" + std::to_string(std::get<0>(test.param));
    });

// Border nodes moved, border bows and turns held at zero, the inner part where it was.
solver::SheetPlace border_moved(const solver::SheetModel& model, solver::SheetPlace place,
                                const Eigen::Matrix2d& gradient) {
  const mesh::Points& nodes = model.blank.mesh.nodes;
  for (int node = 0; node < nodes.rows(); ++node)
    if (model.equations.of_node(node, 0) < 0)
      place.positions.row(node).head<2>() =
          nodes.row(node).head<2>() + nodes.row(node).head<2>() * gradient.transpose();
  return place;
}

// The force tolerance is some ten times what rounding of the positions leaves of forces that small.
TEST_P(MembranePatch, TakesUpAHomogeneousStrainExactly) {
  const auto& [seed, strain] = GetParam();
  mesh::Blank blank = blank_of(rectangle(kSide, kSide, 8, 8, {seed, 0.3}), 0.1);
  blank.rim_held = true;
  const solver::SheetModel model = elastic_model(blank, kModulus, 0.3);
  solver::Tolerances tolerances;
  tolerances.reference_force = kModulus * blank.thickness * strain.gradient.norm() * kSide;
  tolerances.force = 1e-11;

  solver::SheetState state = solver::initial_state(model);
  for (int step = 1; step <= strain.steps; ++step) {
    const Eigen::Matrix2d so_far = strain.gradient * step / strain.steps;
    const auto found = solve_free(model, state, border_moved(model, state.place, so_far), tolerances);
    ASSERT_TRUE(found.converged) << found.reason << " " << found.out_of_balance;
    state = solver::accept(model, state, found.place, found.balance, 0);
  }

  const mesh::Points displacement = state.place.positions - blank.mesh.nodes;
  mesh::Points wanted = mesh::Points::Zero(blank.mesh.n_nodes(), 3);
  wanted.leftCols<2>() = blank.mesh.nodes.leftCols<2>() * strain.gradient.transpose();
  const double scale = wanted.rowwise().norm().maxCoeff();
  const double error = (displacement - wanted).cwiseAbs().maxCoeff() / scale;
  RecordProperty("error", testing::PrintToString(error));
  EXPECT_LT(error, 1e-10);
  EXPECT_LT(state.place.bow.cwiseAbs().maxCoeff(), 1e-10 * scale);
}

}  // namespace
