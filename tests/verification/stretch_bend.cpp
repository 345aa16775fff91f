#include "tests/verification/stretch_bend.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "mesh/tool_surface.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/driven_sheet.hpp"
#include "tests/support/fibre_bending.hpp"
#include "tests/support/least_squares.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kFirstAngle = 2 * kDegree;  // of the force, which keeps the flat strip on the crown
constexpr double kTurn = 1 * kDegree;        // of the force in one increment
constexpr double kTail = 8;                  // thicknesses: the moment falls off within t/(4 tension)
constexpr double kArcStart = 0.25,
                 kArcEnd = 0.75;  // of the angle on the cylinder: where the turn is measured

double mid_radius(const StretchBend& setup) {
  return setup.ratio * setup.thickness;
}

mesh::ToolSurface cylinder(const StretchBend& setup) {
  const double radius = mid_radius(setup) - 0.5 * setup.thickness;
  mesh::ToolSpec spec;
  spec.shape = mesh::CylinderBlock{radius, 20 * setup.thickness, radius};
  spec.tray_floor = false;
  spec.facet_angle = 0.03;
  return mesh::make_tool(spec);
}

Eigen::Vector3d direction(double angle) {
  return {std::cos(angle), 0, -std::sin(angle)};
}

/// Flat strip along x on the crown, both long edges symmetry planes.
mesh::SurfaceMesh flat_strip(const StretchBend& setup, double from, double to, double& width) {
  const double edge = mid_radius(setup) * 90 * kDegree / setup.elements;
  const int n_along = static_cast<int>(std::lround((to - from) / edge));
  constexpr int kAcross = 2;
  width = kAcross * edge;
  mesh::SurfaceMesh strip = rectangle(to - from, width, n_along, kAcross, Disorder{setup.seed});
  strip.nodes.col(0).array() += from;
  strip.nodes.col(2).array() += mid_radius(setup);
  return strip;
}

double tension_force(const StretchBend& setup) {
  return setup.tension * 2 / std::sqrt(3.0) * solver::flow_stress(setup.material.hardening, 0).stress *
         setup.thickness;
}

solver::ContactLaw contact(const StretchBend& setup, const solver::SheetModel& model) {
  return solver::contact_law(model, {}, 0, tension_force(setup) / mid_radius(setup));
}

struct Turn {
  double per_length = 0, thickness = 0, moment = 0;
};

/// Moment about the strip's width that a triangle carries, per width, conjugate to the turn.
double moment_of(const solver::SheetModel& model, const solver::SheetState& state, int t) {
  const solver::TriangleStrain strain = solver::triangle_strain(
      model.references[t], solver::triangle_state(model, state.place, state.frames, t));
  std::vector<solver::PointState> points(model.section.n_points());
  solver::SectionResponse response;
  model.section.respond({strain.value.head<3>(), strain.value.tail<3>()},
                        solver::section_frozen(model, state, t, 0, false),
                        state.points.data() + static_cast<std::ptrdiff_t>(t) * model.section.n_points(),
                        points.data(), response);
  return -response.resultant(3) * std::sqrt(1 + 2 * strain.value(0));
}

/// Slope of the angle of the normals over the place along the flat strip, least squares, and means.
Turn turn_of(const solver::SheetModel& model, const solver::SheetState& state, double from, double to) {
  const mesh::SurfaceMesh& flat = model.blank.mesh;
  std::vector<Eigen::Vector2d> samples;
  Turn turn;
  for (int t = 0; t < flat.n_triangles(); ++t) {
    double along = 0;
    Eigen::Vector3d x[3];
    for (int i = 0; i < 3; ++i) {
      along += flat.nodes(flat.triangles(t, i), 0) / 3;
      x[i] = state.place.positions.row(flat.triangles(t, i));
    }
    if (along < from || along > to) continue;
    const Eigen::Vector3d normal = (x[1] - x[0]).cross(x[2] - x[0]);
    samples.emplace_back(along, std::atan2(normal.x(), normal.z()));
    turn.thickness += state.memory[t].thickness;
    turn.moment += moment_of(model, state, t);
  }
  turn.thickness /= static_cast<double>(samples.size());
  turn.moment /= static_cast<double>(samples.size());
  turn.per_length = least_squares_slope(samples);
  return turn;
}

/// Half of the strip with its lines of symmetry, flat on the crown.
mesh::Blank flat_blank(const StretchBend& setup) {
  const double arc = mid_radius(setup) * setup.wrap;
  double width = 0;
  mesh::Blank blank = blank_of(flat_strip(setup, 0, arc + kTail * setup.thickness, width), setup.thickness);
  mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
  mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
  mark_border(blank, 1, width, mesh::EdgeKind::symmetry_y);
  return blank;
}

/// Wraps the strip by turning the force at its end.
void wrap(const StretchBend& setup, const solver::SheetModel& model, DrivenSheet& sheet) {
  const double length = model.blank.mesh.nodes.col(0).maxCoeff();
  const std::vector<int> end =
      border_edges(model.blank, [&](int node) { return model.blank.mesh.nodes(node, 0) > length - 1e-9; });
  const auto load = [&](double angle) {
    return edge_force(model, end, tension_force(setup) * direction(angle));
  };
  sheet.lower(1e-5 * setup.thickness);
  sheet.go(load(kFirstAngle));
  const int turns = static_cast<int>(std::lround((setup.wrap - kFirstAngle) / kTurn));
  for (int i = 1; i <= turns; ++i) sheet.go(load(kFirstAngle + i * (setup.wrap - kFirstAngle) / turns));
}

/// Force by which balance is judged [N].
double end_force(const StretchBend& setup, const solver::SheetModel& model) {
  return tension_force(setup) * model.blank.mesh.nodes.col(1).maxCoeff();
}

}  // namespace

StretchBendResult stretch_bend(const StretchBend& setup) {
  const mesh::ToolSurface tool = cylinder(setup);
  const double arc = mid_radius(setup) * setup.wrap;
  const solver::SheetModel model = solver::make_model(flat_blank(setup), setup.material, setup.layers, true);
  DrivenSheet sheet(model, tool, contact(setup, model), end_force(setup, model));
  wrap(setup, model, sheet);
  const Turn bent = turn_of(model, sheet.state(), kArcStart * arc, kArcEnd * arc);
  sheet.release();
  const Turn free = turn_of(model, sheet.state(), kArcStart * arc, kArcEnd * arc);
  return {bent.thickness, bent.per_length, bent.moment, 1 - free.per_length / bent.per_length};
}

BorneContact stretch_bend_contact(const StretchBend& setup, const ArcParts& parts) {
  const mesh::ToolSurface tool = cylinder(setup);
  const solver::SheetModel model = solver::make_model(flat_blank(setup), setup.material, setup.layers, true);
  DrivenSheet sheet(model, tool, contact(setup, model), end_force(setup, model));
  wrap(setup, model, sheet);
  return borne_contact(model, sheet.state(), sheet.loading(), {mid_radius(setup) - 0.5 * setup.thickness, 0},
                       parts);
}

FibreStretchBend stretch_bend_fibres(const StretchBend& setup) {
  FibreBend fibres;
  fibres.material = setup.material;
  fibres.thickness = setup.thickness;
  fibres.radius = mid_radius(setup);
  fibres.tension = tension_force(setup);
  const FibreBendResult bent = bend_and_release(fibres);
  return {bent.moment, bent.springback};
}

}  // namespace halftool::test
