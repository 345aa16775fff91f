#include "solver/stepping/contact_set.hpp"

#include <gtest/gtest.h>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kLength = 4;
constexpr double kSlope = 0.01;

// A flat sheet over a slanting tool that it touches over its left half; free of friction.
class ContactSetTest : public ::testing::Test {
 protected:
  solver::SheetModel model =
      elastic_model(blank_of(rectangle(kLength, 2, 8, 4, Disorder{3}), 1.0), 70e3, 0.3);
  mesh::ToolSurface tool =
      testing::tool_over_square(6, 6, 0, [](double u, double v) -> testing::SurfacePoint {
        const double x = 2 * kLength * (u - 0.25);
        const double drop = -0.5 - kSlope * (x - 0.5 * kLength);
        return {{x, 6 * v - 2, drop}, Eigen::Vector3d(kSlope, 0, 1).normalized()};
      });
  solver::SparsityPattern pattern{model.triangle_equations, model.equations.count};
  solver::SheetState state = solver::initial_state(model);

  [[nodiscard]] solver::Balance balance(const solver::SheetPlace& place) const {
    solver::Loading loading;
    loading.tool = &tool;
    loading.contact = {1e3, 0, 1};
    loading.edges_loaded = false;
    return solver::balance(model, pattern, state, place, loading, true, 1);
  }

  [[nodiscard]] Eigen::VectorXd lift(double height) const {
    Eigen::VectorXd step = Eigen::VectorXd::Zero(model.equations.count);
    for (Eigen::Index node = 0; node < model.equations.of_node.rows(); ++node)
      step(model.equations.of_node(node, 2)) = height;
    return step;
  }

  // A shift of the sheet strains nothing and contact is a spring: with the points of its end the linear
  // balance is exact.
  void expect_exact(double height) const {
    const solver::Balance start = balance(state.place);
    const Eigen::VectorXd step = lift(height);
    const Eigen::VectorXd end = balance(moved(state.place, model.equations, step)).out_of_balance;
    const auto foretold = [&](const solver::ContactSet& set) -> Eigen::VectorXd {
      return set.out_of_balance() + pattern.multiply(set.stiffness(), step);
    };
    solver::ContactSet set(start, model, pattern);
    const double scale = balance(moved(state.place, model.equations, lift(-0.02))).out_of_balance.norm();
    EXPECT_GT((foretold(set) - end).norm(), 1e-2 * scale);
    EXPECT_GT(set.follow(step), 10);
    EXPECT_LT((foretold(set) - end).norm(), 1e-9 * scale);
    EXPECT_EQ(set.follow(step), 0);
  }
};

TEST_F(ContactSetTest, TakesOnWhatComesToTouch) {
  expect_exact(-0.015);
}

TEST_F(ContactSetTest, LetsGoWhatLeaves) {
  expect_exact(0.015);
}

TEST_F(ContactSetTest, ForgetsNothingWhenAStepIsTakenBack) {
  const solver::Balance start = balance(state.place);
  solver::ContactSet set(start, model, pattern);
  set.follow(lift(-0.015));
  set.follow(lift(0.0));
  EXPECT_LT((set.out_of_balance() - start.out_of_balance).norm(), 1e-9 * start.out_of_balance.norm());
  EXPECT_LT((set.stiffness() - start.stiffness).norm(), 1e-9 * start.stiffness.norm());
}

}  // namespace
}  // namespace halftool::test
