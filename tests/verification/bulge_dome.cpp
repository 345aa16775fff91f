#include "tests/verification/bulge_dome.hpp"

#include "mesh/tool_surface.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/note_keeper.hpp"

namespace halftool::test {
namespace {

constexpr double kElementsPerBend = 4;  // the lip is far from the pole

mesh::ToolSurface make_cavity(const BulgeSetup& setup) {
  const double lip = setup.opening_radius + setup.entry_radius;
  mesh::ToolSpec spec;
  spec.shape = mesh::RoundCavity{setup.opening_radius, setup.entry_radius, setup.opening_radius, 1.5 * lip};
  return mesh::make_tool(spec);
}

mesh::Blank make_sheet(const BulgeSetup& setup, const mesh::ToolSurface& tool) {
  mesh::BlankSpec spec;
  spec.outline = mesh::CircleOutline{setup.opening_radius + 2 * setup.entry_radius};
  spec.thickness = setup.thickness;
  spec.symmetric_x = spec.symmetric_y = true;
  spec.rim_held = true;
  mesh::BlankMeshSpec mesh_spec;
  mesh_spec.coarsest = setup.edge_length;
  mesh_spec.elements_per_bend = kElementsPerBend;
  return mesh::make_blank(spec, mesh_spec, tool);
}

}  // namespace

Dome bulge(const BulgeSetup& setup) {
  const mesh::ToolSurface tool = make_cavity(setup);
  const mesh::Blank blank = make_sheet(setup, tool);
  solver::SolverSettings settings;
  settings.threads = 1;
  const solver::SheetModel model =
      solver::make_model(blank, setup.material, settings.layers, settings.enriched_membrane);
  solver::PressSpec press;
  press.schedule = {{1, setup.pressure}};

  Dome dome;
  NoteKeeper monitor;
  solver::IncrementSolver increments(model, settings, dome.record);
  const solver::SheetState state = solver::form(increments, tool, press, monitor, dome.record).state;
  dome.height = blank.mesh.nodes(0, 2) - state.place.positions.col(2).minCoeff();
  dome.pole = pole_of(model, state, Eigen::Vector2d::Constant(setup.opening_radius));
  dome.notes = monitor.notes;
  return dome;
}

}  // namespace halftool::test
