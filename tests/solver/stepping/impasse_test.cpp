// What is said where a solve cannot go on: reason, place, node, triangle, tool.
#include "solver/stepping/impasse.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "solver/stepping/forming.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/note_keeper.hpp"
#include "tests/support/reference_sheets.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kThickness = 1;

// A strip of 40 by 10, four cells by one, over the box |x|, |y|, |z| < 10: its right half overhangs.
mesh::Blank strip(double height) {
  return blank_of(mapped(rectangle(40, 10, 4, 1),
                         [=](const Eigen::Vector3d& x) -> Eigen::Vector3d {
                           return {x.x() - 10, x.y() - 5, height};
                         }),
                  kThickness);
}

class Impasse : public ::testing::Test {
 protected:
  [[nodiscard]] solver::SheetModel model(double height) const {
    return solver::make_model(strip(height), mild_steel(), 3, true);
  }
  /// Out-of-balance force on one node alone.
  static solver::IncrementResult forced(const solver::SheetModel& sheet, int node,
                                        const Eigen::Vector3d& force) {
    solver::IncrementResult result;
    result.balance.valid = true;
    result.balance.out_of_balance = Eigen::VectorXd::Zero(sheet.equations.count);
    for (int c = 0; c < 3; ++c) result.balance.out_of_balance(sheet.equations.of_node(node, c)) = force(c);
    return result;
  }
  mesh::ToolSurface tool = halftool::testing::box_tool({10, 10, 10});
};

TEST_F(Impasse, NamesNodeTriangleAndGap) {
  const solver::SheetModel sheet = model(12);
  const auto result = forced(sheet, 0, {0, 3, 4});
  EXPECT_EQ(solver::place_of_impasse(sheet, solver::initial_state(sheet), result, &tool),
            "; the largest out-of-balance force, 5 N, is at node 0, (-10, -5, 12) mm, of triangle 0, which "
            "stands 1.5 "
            "mm off the tool");
}

TEST_F(Impasse, SaysThatTheTriangleTouches) {
  const solver::SheetModel sheet = model(10.499);
  const auto result = forced(sheet, 6, {0, 0, -7});
  EXPECT_EQ(solver::place_of_impasse(sheet, solver::initial_state(sheet), result, &tool),
            "; the largest out-of-balance force, 7 N, is at node 6, (0, 5, 10.499) mm, of triangle 0, which "
            "touches "
            "the tool");
}

TEST_F(Impasse, SaysNothingOfTheToolWithoutOne) {
  const solver::SheetModel sheet = model(12);
  const auto result = forced(sheet, 9, {0, 0, 2});
  EXPECT_EQ(solver::place_of_impasse(sheet, solver::initial_state(sheet), result, nullptr),
            "; the largest out-of-balance force, 2 N, is at node 9, (30, 5, 12) mm, of triangle 6");
}

TEST_F(Impasse, NamesTheTriangleWhoseStrainRanAway) {
  const solver::SheetModel sheet = model(12);
  const solver::SheetState rest = solver::initial_state(sheet);
  solver::SheetPlace crushed = rest.place;
  crushed.positions.row(1) = crushed.positions.row(2);  // triangles 0, 2 and 3 meet there
  const solver::SparsityPattern pattern(sheet.triangle_equations, sheet.equations.count);
  solver::IncrementResult result;
  result.balance = solver::balance(sheet, pattern, rest, crushed, {}, false, 1);
  ASSERT_FALSE(result.balance.valid);
  EXPECT_EQ(result.balance.failed_triangle, 2);
  EXPECT_EQ(solver::place_of_impasse(sheet, rest, result, &tool),
            "; it did so in triangle 2 at (6.66667, -1.66667, 12) mm, which stands 1.5 mm off the tool");
}

// One iteration an increment is too few for any; the end names a node of the sheet. Which one is a matter of
// rounding.
TEST_F(Impasse, EndsAPressingThatCannotGoOn) {
  const solver::SheetModel sheet = model(10.5);
  solver::SolverSettings settings;
  settings.threads = 1;
  settings.most_iterations = 1;
  solver::RunRecord record;
  solver::IncrementSolver increments(sheet, settings, record);
  solver::PressSpec press;
  press.schedule = {{0, 0}, {1, 10}};
  NoteKeeper monitor;
  std::string message;
  try {
    solver::form(increments, tool, press, monitor, record);
  } catch (const solver::SolveError& error) {
    message = error.what();
  }
  EXPECT_THAT(
      message,
      ::testing::MatchesRegex(
          "no equilibrium beyond [-.0-9e]+ MPa: no balance after 1 iterations; the largest "
          "out-of-balance force, [-.0-9e]+ N, is at node [0-9]+, .[-.0-9e]+, [-.0-9e]+, [-.0-9e]+. mm, of "
          "triangle [0-9]+, which (touches the tool|stands [-.0-9e]+ mm off the tool)"));
}

}  // namespace
}  // namespace halftool::test
