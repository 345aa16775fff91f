// A pressing that goes on from a copy of where it stood.
#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "solver/stepping/forming.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/note_keeper.hpp"

namespace halftool::test {
namespace {

/// Keeps where a pressing stands, and the record, at one of its safe points.
class PointKeeper : public NoteKeeper {
 public:
  PointKeeper(int point, const solver::RunRecord& running) : point_(point), record_(running) {}
  void accepted(const solver::Progress& progress, const solver::SheetFields&) override {
    shares.push_back(progress.share_done);
  }
  void safe_point(const solver::PressingState& state) override {
    if (points++ != point_) return;
    kept.emplace(state);
    record.emplace(record_);
  }
  int points = 0;
  std::vector<double> shares;
  std::optional<solver::PressingState> kept;
  std::optional<solver::RunRecord> record;

 private:
  int point_;
  const solver::RunRecord& record_;
};

/// A narrow steel flange.
class Flange {
 public:
  Flange() : tool(mesh::make_tool(block())), model(solver::make_model(strip(), steel(), 5, true)) {
    settings.threads = 1;
    press.schedule = {{0.5, 0.5}, {1, 2.0}};
  }
  const mesh::ToolSurface tool;
  const solver::SheetModel model;
  solver::SolverSettings settings;
  solver::PressSpec press;

 private:
  static constexpr double kThickness = 1, kHeight = 20;  // [mm]
  static mesh::ToolSpec block() {
    mesh::ToolSpec spec;
    spec.shape = mesh::StraightBlock{40, 4, kHeight, 3};
    return spec;
  }
  static mesh::Blank strip() {
    std::vector<double> ends;
    for (int i = 0; i <= 30; ++i) ends.push_back(i);
    mesh::SurfaceMesh mesh = crossed_strip(ends, 1);
    mesh.nodes.col(2).setConstant(kHeight + 0.5 * kThickness);
    mesh::Blank blank = blank_of(mesh, kThickness);
    mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
    mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
    mark_border(blank, 1, 1, mesh::EdgeKind::symmetry_y);
    return blank;
  }
  static solver::SheetMaterial steel() {
    solver::SheetMaterial material;
    material.youngs_modulus = 207000;
    material.poissons_ratio = 0.3;
    material.hardening = solver::SwiftHardening{500, 0.002, 0.2};
    return material;
  }
};

void expect_same(const solver::SheetState& a, const solver::SheetState& b) {
  EXPECT_EQ(a.place.positions, b.place.positions);
  EXPECT_EQ(a.place.turn, b.place.turn);
  EXPECT_EQ(a.pressure, b.pressure);
  for (std::size_t i = 0; i < a.points.size(); ++i)
    ASSERT_EQ(a.points[i].equivalent_plastic_strain, b.points[i].equivalent_plastic_strain);
}

TEST(Pressing, TellsAShareDoneThatOnlyGrows) {
  for (const double peak : {0.5, 1.0, 2.0}) {
    Flange flange;
    flange.press.schedule = {{1, peak}};
    solver::RunRecord record;
    PointKeeper monitor(-1, record);
    solver::IncrementSolver increments(flange.model, flange.settings, record);
    solver::form(increments, flange.tool, flange.press, monitor, record);
    EXPECT_TRUE(std::is_sorted(monitor.shares.begin(), monitor.shares.end())) << peak;
    EXPECT_GT(monitor.shares.front(), 0);
    EXPECT_EQ(monitor.shares.back(), 1);
  }
}

TEST(GoOn, FromAnyPointToTheSameBits) {
  const Flange flange;
  const auto press = [&flange](PointKeeper& monitor, solver::RunRecord& record) {
    solver::IncrementSolver increments(flange.model, flange.settings, record);
    return solver::form(increments, flange.tool, flange.press, monitor, record).state;
  };
  solver::RunRecord whole;
  PointKeeper counter(-1, whole);
  const solver::SheetState formed = press(counter, whole);
  ASSERT_GT(counter.points, 20);
  for (const int point : {0, counter.points / 3, counter.points - 2, counter.points - 1}) {
    solver::RunRecord record;
    PointKeeper keeper(point, record);
    press(keeper, record);
    ASSERT_TRUE(keeper.kept);
    EXPECT_EQ(keeper.kept->at_rest, point == counter.points - 1);
    solver::RunRecord rest = *keeper.record;
    solver::IncrementSolver increments(flange.model, flange.settings, rest);
    PointKeeper monitor(-1, rest);
    const solver::FormedPart again =
        solver::go_on(increments, *keeper.kept, flange.tool, flange.press, monitor, rest);
    expect_same(again.state, formed);
    EXPECT_EQ(rest.iterations, whole.iterations);
    EXPECT_EQ(rest.iterations_dwell, whole.iterations_dwell);
    EXPECT_EQ(rest.external_work, whole.external_work);
    EXPECT_TRUE(std::equal(monitor.shares.rbegin(), monitor.shares.rend(), counter.shares.rbegin()));
  }
}

}  // namespace
}  // namespace halftool::test
