// The supports of the benchmarks, against strips whose answers a book of beams has.
#include "tests/support/supports.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/blank_of.hpp"
#include "tests/support/followed_sheet.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kHalf = 10;  // of the span
constexpr double kWidth = 2;
constexpr double kThickness = 0.5;
constexpr double kModulus = 1000;

// Right half of a strip, symmetric about x = 0.
mesh::Blank half_strip() {
  return blank_of(rectangle(kHalf, kWidth, 32, 4, Disorder{1}), kThickness);
}

std::function<bool(const Eigen::Vector3d&)> end_of_strip() {
  return [](const Eigen::Vector3d& x) { return x.x() > kHalf - 1e-9; };
}

// Deflection at the middle over that of a beam, force times span cubed over 48 EI, under a force so small
// that the sheet stays linear. The force is spread over the middle line.
double deflection_over_beam(const Support& end) {
  const mesh::Blank blank = half_strip();
  solver::SheetModel model = elastic_model(blank, kModulus, 0);
  hold(model, {symmetry_plane(0), symmetry_plane(1), end});
  const double force = 1e-3;  // on the whole strip
  const auto middle =
      border_edges(blank, [&](int node) { return std::abs(blank.mesh.nodes(node, 0)) < 1e-9; });
  FollowedSheet sheet(model, edge_force(model, middle, {0, 0, 0.5 * force / kWidth}), 1);
  sheet.load_to(1);
  const double inertia = kWidth * std::pow(kThickness, 3) / 12;
  return sheet.displacement(0).z() / (force * std::pow(2 * kHalf, 3) / (48 * kModulus * inertia));
}

TEST(Supports, AHingeHoldsThePlaceAndLeavesTheTurn) {
  EXPECT_NEAR(deflection_over_beam(hinge(end_of_strip())), 1, 0.01);
}

TEST(Supports, AHeldTurnMakesAClamp) {
  Support clamp = hinge(end_of_strip());
  clamp.turn = true;
  EXPECT_NEAR(deflection_over_beam(clamp), 0.25, 0.0025);
}

// The end plate leaves the motion along the axis free, so that a pulled strip stretches as a bar; a hinge
// there would hold it.
TEST(Supports, ADiaphragmMovesAlongItsAxis) {
  const mesh::Blank blank = half_strip();
  solver::SheetModel model =
      elastic_model(blank, kModulus, 0, false);  // bows would want their share of the pull
  hold(model, {symmetry_plane(0), symmetry_plane(1), diaphragm(0, kHalf)});
  const auto end =
      border_edges(blank, [&](int node) { return end_of_strip()(blank.mesh.nodes.row(node).transpose()); });
  const double pull = 1e-2;
  FollowedSheet sheet(model, edge_force(model, end, {pull / kWidth, 0, 0}), 1);
  sheet.load_to(1);
  const Eigen::Vector3d u = sheet.displacement(blank.edges.nodes(end.front(), 0));
  EXPECT_NEAR(u.x() / (pull * kHalf / (kModulus * kWidth * kThickness)), 1, 1e-4);
  EXPECT_EQ(u.z(), 0);
}

// What is held has no equation, what is not has one of its own.
TEST(Supports, NumbersWhatIsLeft) {
  const mesh::Blank blank = half_strip();
  solver::SheetModel model = elastic_model(blank, kModulus, 0);
  const int before = model.equations.count;
  hold(model, {guide(end_of_strip(), 2)});
  EXPECT_EQ(model.equations.count, before - 5);  // nodes of the end
  EXPECT_EQ(model.triangle_equations.maxCoeff(), model.equations.count - 1);
}

}  // namespace
}  // namespace halftool::test
