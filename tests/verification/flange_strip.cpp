#include "tests/verification/flange_strip.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "solver/assembly/sheet_fields.hpp"
#include "solver/springback/flange.hpp"
#include "solver/springback/release.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/fibre_bending.hpp"
#include "tests/support/note_keeper.hpp"
#include "tests/verification/flange_strip_mesh.hpp"

namespace halftool::test {
namespace {

/// Mean angle of the normals over triangles whose middle lies between two places along the flat strip.
double angle_between(const mesh::SurfaceMesh& flat, const mesh::Points& positions, double from, double to) {
  double sum = 0, weight = 0;
  for (int t = 0; t < flat.n_triangles(); ++t) {
    double along = 0;
    Eigen::Vector3d x[3];
    for (int i = 0; i < 3; ++i) {
      along += flat.nodes(flat.triangles(t, i), 0) / 3;
      x[i] = positions.row(flat.triangles(t, i));
    }
    if (along < from || along > to) continue;
    const Eigen::Vector3d normal = (x[1] - x[0]).cross(x[2] - x[0]);
    sum += normal.norm() * std::atan2(normal.x(), normal.z());
    weight += normal.norm();
  }
  if (!(weight > 0)) throw std::runtime_error("no triangles between the two places");
  return sum / weight;
}

/// Of the mid-surface along the strip, mean over the bend.
double axial_strain(const solver::SheetModel& model, const solver::SheetState& state, double from,
                    double to) {
  double sum = 0, area = 0;
  for (int t = 0; t < model.n_triangles(); ++t) {
    double along = 0;
    for (int i = 0; i < 3; ++i) along += model.blank.mesh.nodes(model.blank.mesh.triangles(t, i), 0) / 3;
    if (along < from || along > to) continue;
    const solver::TriangleStrain strain = solver::triangle_strain(
        model.references[t], solver::triangle_state(model, state.place, state.frames, t));
    sum += model.references[t].area * 0.5 * std::log(1 + 2 * strain.value(0));
    area += model.references[t].area;
  }
  return sum / area;
}

}  // namespace

FlangeStrip converged(FlangeStrip setup) {
  setup.model = StripModel::crossed;
  setup.elements_per_bend = setup.edge_radius > 10 ? 40 : setup.edge_radius > 4 ? 28 : 14;
  setup.settings.layers = 23;
  setup.settings.penetration_share = 3e-5;
  setup.settings.pressure_growth = 0.0375;
  setup.settings.largest_motion = 0.25;
  setup.settings.tolerance = 0.02;
  return setup;
}

FlangeResult press_flange(const FlangeStrip& setup) {
  const mesh::ToolSurface tool = flange_block(setup);
  const mesh::Blank blank = flange_blank(setup, tool);
  const solver::SheetModel model = solver::make_model(blank, setup.material, setup.settings.layers, true);
  solver::PressSpec press;
  press.schedule = {{1, setup.pressure}};
  press.tool_friction = setup.friction;
  press.normal_stress = setup.normal_stress;
  NoteKeeper monitor;
  solver::RunRecord record;
  solver::SolverSettings settings = setup.settings;
  settings.threads = 1;
  solver::IncrementSolver increments(model, settings, record);
  const solver::FormedPart formed = solver::form(increments, tool, press, monitor, record);
  const solver::ReleasedPart released = solver::release(increments, formed, monitor, record);

  const mesh::Points& before = formed.state.place.positions;
  const mesh::Points& after = released.state.place.positions;
  const solver::Regions regions = solver::find_flanges(blank, before);
  if (regions.flanges.empty()) throw std::runtime_error("the strip has no flange");
  const std::vector<int>& flange = regions.flanges.front().triangles;
  FlangeResult result;
  result.springback = solver::fold_angle(blank, before, regions.web, flange) -
                      solver::fold_angle(blank, after, regions.web, flange);
  result.thinning = solver::worst_thinning(formed.state);
  const double start = 0.5 * kFlangeBlock - setup.edge_radius;
  const double arc = 0.5 * std::numbers::pi * (setup.edge_radius + 0.5 * kFlangeThickness);
  result.axial_strain = axial_strain(model, formed.state, start, start + arc);
  // Just beyond the bend, less the web just before it.
  const double strip = 1.5 * kFlangeThickness;
  const auto turn = [&](const mesh::Points& positions) {
    return angle_between(blank.mesh, positions, start + arc, start + arc + strip) -
           angle_between(blank.mesh, positions, start - strip, start);
  };
  result.turn_bend = turn(before) - turn(after);
  result.rests = monitor.notes.empty();
  result.iterations = record.iterations;
  result.regularisation_work = record.regularisation_work;
  return result;
}

double pure_bend_springback(const FlangeStrip& setup) {
  const FibreBend bend{setup.material, kFlangeThickness, setup.edge_radius + 0.5 * kFlangeThickness};
  return 0.5 * std::numbers::pi * bend_and_release(bend).springback;
}

solver::SheetMaterial sheet_6061_o() {
  return {"", "", "", 69000, 0.33, solver::SwiftHardening{205, 0.00139, 0.20}};
}
// The pre-strain gives the first yield: 210 and 345 MPa.
solver::SheetMaterial sheet_low_carbon() {
  return {"", "", "", 207000, 0.3, solver::SwiftHardening{530, std::pow(210.0 / 530, 1 / 0.26), 0.26}};
}
solver::SheetMaterial sheet_2024_t3() {
  return {"", "", "", 73000, 0.33, solver::SwiftHardening{780, std::pow(345.0 / 780, 1 / 0.17), 0.17}};
}

}  // namespace halftool::test
