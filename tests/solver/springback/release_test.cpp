#include "solver/springback/release.hpp"

#include <gtest/gtest.h>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/note_keeper.hpp"

namespace halftool::test {
namespace {

// The rounding of places leaves internal forces out of balance, more of them the farther the part lies from
// the origin and the shorter its elements; the free part is not asked for less.
TEST(Release, SheetFarFromTheOriginComesToRest) {
  constexpr double kThickness = 1.6, kCell = 0.4, kFar = 5000, kHeight = 35;  // [mm]
  std::vector<double> ends;
  for (int i = 0; i <= 20; ++i) ends.push_back(kFar + kCell * i);
  mesh::SurfaceMesh strip = crossed_strip(ends, kCell);
  strip.nodes.col(2).setConstant(kHeight + 0.5 * kThickness);
  mesh::Blank blank = blank_of(strip, kThickness);
  mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
  mark_border(blank, 1, kCell, mesh::EdgeKind::symmetry_y);
  mesh::ToolSpec spec;
  spec.shape = mesh::StraightBlock{2 * kFar + 100, 20, kHeight, 3};
  const mesh::ToolSurface tool = mesh::make_tool(spec);

  const solver::SheetModel model = elastic_model(blank, 207000, 0.3);
  solver::SolverSettings settings;
  settings.threads = 1;
  solver::PressSpec press;
  press.schedule = {{1, 100.0}};
  NoteKeeper monitor;
  solver::RunRecord record;
  solver::IncrementSolver increments(model, settings, record);
  const solver::FormedPart formed = solver::form(increments, tool, press, monitor, record);
  const solver::ReleasedPart released = solver::release(increments, formed, monitor, record);
  EXPECT_LT((released.state.place.positions - blank.mesh.nodes).rowwise().norm().maxCoeff(), 1e-3);
  EXPECT_TRUE(monitor.notes.empty());
}

}  // namespace
}  // namespace halftool::test
