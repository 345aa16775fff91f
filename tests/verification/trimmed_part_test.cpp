// Stress is set free by a cut: a sheet with plastic strains that do not fit together, trimmed.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "mesh/chain_curves.hpp"
#include "mesh/trim.hpp"
#include "solver/assembly/trimmed_state.hpp"
#include "solver/springback/alignment.hpp"
#include "solver/springback/release.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/kinematic_sheets.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/note_keeper.hpp"

namespace halftool::test {
namespace {

using mesh::Points;

constexpr double kLength = 60, kWidth = 20, kThickness = 1;
constexpr int kLayers = 5;

/// 60 by 20 of elastic sheet, divided at x = 30.
struct Plate {
  mesh::Blank blank;
  solver::SheetModel model;
  explicit Plate(mesh::Blank sheet, const solver::SheetMaterial& metal = {"", "", "", 70000, 0.3,
                                                                          solver::VoceHardening{250, 250, 0}})
      : blank(std::move(sheet)), model(solver::make_model(blank, metal, kLayers, true)) {
    model.elastic = true;
  }
};

/// @param n  cells across
Plate plate(int n = 10) {
  return Plate(blank_of(rectangle(kLength, kWidth, 3 * n, n, {0}), kThickness));
}

/// Flat, with plastic strain beyond x = 30: along y, more towards the pad, and some shear.
solver::SheetState strained(const Plate& plate) {
  solver::SheetState state = solver::initial_state(plate.model);
  for (int t = 0; t < plate.model.n_triangles(); ++t) {
    double x = 0;
    for (const int node : plate.blank.mesh.triangles.row(t)) x += plate.blank.mesh.nodes(node, 0) / 3;
    if (x < 30) continue;
    for (int i = 0; i < kLayers; ++i)
      state.points[static_cast<std::size_t>(t) * kLayers + i].plastic_strain
          << -1e-3 * plate.model.section.zeta()(i),
          4e-4 + 4e-3 * plate.model.section.zeta()(i), 2e-4;
  }
  return state;
}

solver::SheetState at_rest(const Plate& plate, const solver::SheetState& start) {
  solver::RunRecord record;
  solver::IncrementSolver solver(plate.model, {}, record);
  NoteKeeper monitor;
  return solver::free_balance(solver, {start, {}}, start, monitor, record);
}

mesh::TrimSpec left_of(double x) {
  const Eigen::Vector2d a(-9, -9), b(x, -9), c(x, 30), d(-9, 30);
  return {mesh::chain_curves(
      {mesh::LineCurve{a, b}, mesh::LineCurve{b, c}, mesh::LineCurve{c, d}, mesh::LineCurve{d, a}})};
}

struct Trimmed {
  Plate plate;
  solver::SheetState state;
};
Trimmed trimmed(const Plate& before, const Points& laid, const solver::SheetState& state,
                const mesh::TrimSpec& spec) {
  const mesh::TrimmedBlank cut = mesh::trim_blank(before.blank, laid, spec);
  Plate after(cut.blank);
  solver::SheetState carried = solver::trimmed_state(before.model, state, cut, after.model);
  return {std::move(after), std::move(carried)};
}

double distance(const mesh::Blank& blank, const Points& a, const Points& b) {
  return solver::best_fit(blank, a, b).largest;
}

// What does not fit is cut off: the rest is flat again and as long as it was.
TEST(TrimmedPart, IsFreeOfStressWhereOnlyTheOtherPartWasStrained) {
  const Plate whole = plate();
  const solver::SheetState start = strained(whole);
  const solver::SheetState free = at_rest(whole, start);
  const double warp = distance(whole.blank, whole.blank.mesh.nodes, free.place.positions);
  ASSERT_GT(warp, 0.1);
  for (const double x : {30.0, 29.2, 24.7}) {
    const Trimmed cut = trimmed(whole, start.place.positions, free, left_of(x));
    const double before = distance(cut.plate.blank, cut.plate.blank.mesh.nodes, cut.state.place.positions);
    ASSERT_GT(before, 0.005);  // else there is nothing to set free
    const solver::SheetState rest = at_rest(cut.plate, cut.state);
    const double after = distance(cut.plate.blank, cut.plate.blank.mesh.nodes, rest.place.positions);
    EXPECT_LT(after, 0.01 * before) << x;
    RecordProperty("left_over_at_" + std::to_string(x), std::to_string(after / before));
  }
}

/// How far apart the part is that is cut before it is set free and the one that is cut afterwards, over the
/// motion that the cut makes.
double difference_of_orders(int n) {
  const Plate whole = plate(n);
  const solver::SheetState start = strained(whole);
  const solver::SheetState free = at_rest(whole, start);
  const mesh::TrimSpec spec = left_of(41.3);
  const Trimmed early = trimmed(whole, start.place.positions, start, spec);
  const Trimmed late = trimmed(whole, start.place.positions, free, spec);
  const Points a = at_rest(early.plate, early.state).place.positions;
  const Points b = at_rest(late.plate, late.state).place.positions;
  const double moved = distance(late.plate.blank, late.state.place.positions, b);
  EXPECT_GT(moved, 0.005);
  EXPECT_GT(distance(early.plate.blank, early.plate.blank.mesh.nodes, a), 0.05);
  return distance(early.plate.blank, a, b) / moved;
}

// Elastic, so that the order does not matter, but for stress being constant over a triangle also where a part
// of it, or a part of its neighbour, is carried over.
TEST(TrimmedPart, IsTheSameCutBeforeOrAfterItIsSetFree) {
  const double coarse = difference_of_orders(10), fine = difference_of_orders(20);
  EXPECT_LT(coarse, 0.02);
  EXPECT_LT(fine, 0.01);
  RecordProperty("difference_coarse", std::to_string(coarse));
  RecordProperty("difference_fine", std::to_string(fine));
}

// The resultants of a triangle are those of the triangle that it was cut from.
void expect_stress_kept(const Plate& whole, const solver::SheetState& start) {
  const solver::SheetState free = at_rest(whole, start);
  const mesh::TrimmedBlank cut = mesh::trim_blank(whole.blank, free.place.positions, left_of(41.3));
  const Plate after(cut.blank, whole.model.section.material());
  const solver::SheetState state = solver::trimmed_state(whole.model, free, cut, after.model);
  const auto resultants = [](const Plate& of, const solver::SheetState& s, int t) {
    const auto strain = solver::triangle_strain(of.model.references[t],
                                                solver::triangle_state(of.model, s.place, s.frames, t));
    solver::SectionResponse response;
    std::array<solver::PointState, kLayers> scratch;
    const int remembered = kLayers * of.model.section.n_history();
    std::vector<double> trial(static_cast<std::size_t>(remembered));
    EXPECT_TRUE(of.model.section.respond({strain.value.head<3>(), strain.value.tail<3>()},
                                         solver::section_frozen(of.model, s, t, 0, true),
                                         s.points.data() + t * kLayers, scratch.data(), response,
                                         {s.history.data() + t * remembered, trial.data()}));
    return response.resultant;
  };
  double largest = 0, change = 0;
  for (int t = 0; t < after.model.n_triangles(); ++t) {
    const auto before = resultants(whole, free, cut.parent[t]);
    largest = std::max(largest, before.cwiseAbs().maxCoeff());
    change = std::max(change, (resultants(after, state, t) - before).cwiseAbs().maxCoeff());
  }
  ASSERT_GT(largest, 5);  // [N/mm]
  EXPECT_LT(change, 1e-4 * largest);
  const int remembered = kLayers * whole.model.section.n_history();
  ASSERT_EQ(state.history.size(), static_cast<std::size_t>(after.model.n_triangles() * remembered));
  for (int t = 0; t < after.model.n_triangles(); ++t)
    for (int i = 0; i < remembered; ++i)
      EXPECT_EQ(state.history[t * remembered + i], free.history[cut.parent[t] * remembered + i]);
}

TEST(TrimmedPart, KeepsItsStress) {
  const Plate whole = plate();
  expect_stress_kept(whole, strained(whole));
}

// The modulus has fallen unevenly, and each triangle remembers its backstress.
TEST(TrimmedPart, KeepsItsStressAndItsHistory) {
  const Plate whole(plate().blank, mild_cyclic_steel());
  solver::SheetState start = strained(whole);
  for (std::size_t i = 0; i < start.points.size(); ++i)
    start.points[i].equivalent_plastic_strain = 1e-3 * static_cast<double>(i % 37);
  for (std::size_t i = 0; i < start.history.size(); ++i) start.history[i] = static_cast<double>(i % 23);
  expect_stress_kept(whole, start);
}

}  // namespace
}  // namespace halftool::test
