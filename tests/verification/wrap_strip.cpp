#include "tests/verification/wrap_strip.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "mesh/tool_surface.hpp"
#include "solver/springback/release.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/least_squares.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/note_keeper.hpp"

namespace halftool::test {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kArcStart = 15 * kDegree;
constexpr double kArcEnd = 45 * kDegree;
constexpr double kLengthOverRadius = 3;
constexpr double kHeightOverRadius = 5;  // the tail hangs clear of the tray floor

double mid_radius(const WrapSetup& setup) {
  return setup.ratio * setup.thickness;
}

double half_length(const WrapSetup& setup) {
  return kLengthOverRadius * mid_radius(setup);
}
double crown(const WrapSetup& setup) {
  return kHeightOverRadius * mid_radius(setup);
}

mesh::ToolSurface make_cylinder(const WrapSetup& setup) {
  const double radius = mid_radius(setup) - 0.5 * setup.thickness;
  mesh::ToolSpec spec;
  spec.shape = mesh::CylinderBlock{radius, 20 * setup.thickness, crown(setup)};
  return mesh::make_tool(spec);
}

mesh::Blank make_strip(const WrapSetup& setup) {
  const double edge = mid_radius(setup) * 90 * kDegree / setup.elements_per_bend;
  const double length = half_length(setup);
  const int n_along = static_cast<int>(std::lround(length / edge));
  constexpr int kAcross = 2;
  const double width = kAcross * edge;
  mesh::SurfaceMesh strip = rectangle(length, width, n_along, kAcross, Disorder{setup.seed});
  strip.nodes.col(2).array() += crown(setup) + 0.5 * setup.thickness;
  mesh::Blank blank = blank_of(strip, setup.thickness);
  mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
  mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
  mark_border(blank, 1, width, mesh::EdgeKind::symmetry_y);
  return blank;
}

struct Corners {
  Eigen::Vector3d a, b, c;
};
Corners corners_of(const mesh::Points& positions, const mesh::SurfaceMesh& mesh, int t) {
  return {positions.row(mesh.triangles(t, 0)), positions.row(mesh.triangles(t, 1)),
          positions.row(mesh.triangles(t, 2))};
}

double centre_along(const mesh::SurfaceMesh& mesh, int t) {
  const Corners x = corners_of(mesh.nodes, mesh, t);
  return (x.a.x() + x.b.x() + x.c.x()) / 3;
}

std::vector<int> triangles_of_arc(const WrapSetup& setup, const mesh::SurfaceMesh& mesh) {
  std::vector<int> arc;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const double along = centre_along(mesh, t) / mid_radius(setup);
    if (along > kArcStart && along < kArcEnd) arc.push_back(t);
  }
  return arc;
}

/// Slope of the angle of the normals over the place along the flat strip, least squares. A flat triangle's
/// normal is that of the surface near its centre, not at it; the offset is the same before and after release.
double turn_of(const mesh::SurfaceMesh& flat, const mesh::Points& positions, const std::vector<int>& arc) {
  std::vector<Eigen::Vector2d> samples;
  for (const int t : arc) {
    const Corners x = corners_of(positions, flat, t);
    const Eigen::Vector3d normal = (x.b - x.a).cross(x.c - x.a);
    samples.emplace_back(centre_along(flat, t), std::atan2(normal.x(), normal.z()));
  }
  return least_squares_slope(samples);
}

/// A strip on its cylinder, ready to be pressed.
struct Pressing {
  explicit Pressing(const WrapSetup& setup)
      : tool(make_cylinder(setup)),
        model(solver::make_model(make_strip(setup), setup.material, setup.layers, true)) {
    settings.threads = 1;
    settings.layers = setup.layers;
    press.schedule = {{1, setup.pressure}};
    press.tool_friction = setup.friction;
    press.normal_stress = setup.normal_stress;
    press.edges_loaded = setup.edges_loaded;
  }
  mesh::ToolSurface tool;
  solver::SheetModel model;
  solver::SolverSettings settings;
  solver::PressSpec press;
};

}  // namespace

WrapResult wrap_and_release(const WrapSetup& setup) {
  const Pressing strip(setup);
  const mesh::SurfaceMesh& flat = strip.model.blank.mesh;
  WrapResult result;
  NoteKeeper monitor;
  solver::IncrementSolver increments(strip.model, strip.settings, result.record);
  const solver::FormedPart formed = solver::form(increments, strip.tool, strip.press, monitor, result.record);
  const solver::ReleasedPart released = solver::release(increments, formed, monitor, result.record);

  const std::vector<int> arc = triangles_of_arc(setup, flat);
  result.curvature = turn_of(flat, formed.state.place.positions, arc);
  result.springback = 1 - turn_of(flat, released.state.place.positions, arc) / result.curvature;
  result.notes = monitor.notes;
  return result;
}

BorneContact pressed_contact(const WrapSetup& setup, const ArcParts& parts) {
  const Pressing strip(setup);
  NoteKeeper monitor;
  solver::RunRecord record;
  solver::IncrementSolver increments(strip.model, strip.settings, record);
  const solver::FormedPart formed = solver::form(increments, strip.tool, strip.press, monitor, record);
  const double radius = mid_radius(setup) - 0.5 * setup.thickness;
  return borne_contact(strip.model, formed.state, formed.loading, {radius, crown(setup) - radius}, parts);
}

}  // namespace halftool::test
