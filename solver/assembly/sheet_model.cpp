#include "solver/assembly/sheet_model.hpp"

#include <Eigen/Geometry>
#include <algorithm>

#include "mesh/mesh_check.hpp"

namespace halftool::solver {
namespace {

Eigen::Vector3d unit_normal(const mesh::SurfaceMesh& mesh, int triangle) {
  const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(triangle, 0));
  const Eigen::Vector3d b = mesh.nodes.row(mesh.triangles(triangle, 1));
  const Eigen::Vector3d c = mesh.nodes.row(mesh.triangles(triangle, 2));
  return (b - a).cross(c - a).normalized();
}

// Directors of the undeformed sheet: the mean normal of the neighbours, made perpendicular to the edge. In a
// plane of symmetry the neighbour is the mirror image.
std::vector<EdgeFrame> initial_frames(const mesh::Blank& blank) {
  std::vector<EdgeFrame> frames(blank.edges.n_edges());
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    Eigen::Vector3d normal = unit_normal(blank.mesh, blank.edges.triangles(e, 0));
    if (!blank.edges.is_boundary(e)) normal += unit_normal(blank.mesh, blank.edges.triangles(e, 1));
    if (blank.edge_kind[e] == mesh::EdgeKind::symmetry_x) normal.x() = 0;
    if (blank.edge_kind[e] == mesh::EdgeKind::symmetry_y) normal.y() = 0;
    const Eigen::Vector3d tail = blank.mesh.nodes.row(blank.edges.nodes(e, 0));
    const Eigen::Vector3d head = blank.mesh.nodes.row(blank.edges.nodes(e, 1));
    frames[e].tangent = (head - tail).normalized();
    frames[e].director = (normal - normal.dot(frames[e].tangent) * frames[e].tangent).normalized();
  }
  return frames;
}

SheetPlace initial_place(const mesh::Blank& blank) {
  return {blank.mesh.nodes, Eigen::VectorXd::Zero(blank.edges.n_edges()),
          Eigen::VectorXd::Zero(blank.edges.n_edges())};
}

Eigen::Matrix3d plane_stress_matrix(const SheetMaterial& material) {
  const double nu = material.poissons_ratio;
  const double e = material.youngs_modulus / (1 - nu * nu);
  Eigen::Matrix3d matrix;
  matrix << e, nu * e, 0, nu * e, e, 0, 0, 0, e * (1 - nu) / 2;
  return matrix;
}

}  // namespace

double pad_share(double curvature, double smallest_radius) {
  return std::clamp(2 - curvature * smallest_radius, 0.0, 1.0);
}

double SheetModel::mean_edge_length() const {
  double total = 0;
  for (const TriangleReference& reference : references) total += reference.length.sum();
  return total / (3.0 * static_cast<double>(references.size()));
}

SheetModel make_model(const mesh::Blank& blank, const SheetMaterial& material, int layers,
                      bool enriched_membrane) {
  mesh::check_triangles(blank.mesh, blank.edges);
  SheetModel model{blank, Section(material, layers),  number_equations(blank, enriched_membrane), {}, {},
                   {},    make_pressure_spread(blank)};
  model.triangle_equations = triangle_equations(blank, model.equations);
  const SheetPlace place = initial_place(blank);
  const std::vector<EdgeFrame> frames = initial_frames(blank);
  const Eigen::Vector3d axis(blank.rolling_direction.x(), blank.rolling_direction.y(), 0);
  const Eigen::Matrix3d plane_stress = plane_stress_matrix(material);
  for (int t = 0; t < blank.mesh.n_triangles(); ++t) {
    const TriangleState state = triangle_state(model, place, frames, t);
    const Eigen::Vector3d sign = blank.edges.sign.row(t).cast<double>().transpose();
    model.references.push_back(make_reference(state.positions, axis, sign, state));
    model.bow_stiffness.push_back(
        enriched_membrane ? bow_stabilisation(model.references.back(), plane_stress, blank.thickness)
                          : Eigen::Matrix3d::Zero().eval());
  }
  return model;
}

SheetState initial_state(const SheetModel& model) {
  SheetState state;
  state.place = initial_place(model.blank);
  state.frames = initial_frames(model.blank);
  state.points.assign(static_cast<std::size_t>(model.n_triangles()) * model.section.n_points(), PointState{});
  state.history.assign(state.points.size() * static_cast<std::size_t>(model.section.n_history()), 0.0);
  state.memory.resize(model.n_triangles());
  for (int t = 0; t < model.n_triangles(); ++t) {
    state.memory[t].thickness = model.blank.thickness;
    state.memory[t].area = model.references[t].area;
    const TriangleState unknowns = triangle_state(model, state.place, state.frames, t);
    const TriangleStrain strain = triangle_strain(model.references[t], unknowns);
    state.memory[t].middle = middle_point(model.references[t], unknowns, strain).position;
  }
  return state;
}

TriangleState triangle_state(const SheetModel& model, const SheetPlace& place,
                             const std::vector<EdgeFrame>& frames, int triangle) {
  TriangleState state;
  for (int i = 0; i < 3; ++i) {
    const int edge = model.blank.edges.of_triangle(triangle, i);
    state.positions.col(i) = place.positions.row(model.blank.mesh.triangles(triangle, i)).transpose();
    state.turn(i) = place.turn(edge);
    state.bow(i) = place.bow(edge);
    state.frames[i] = frames[edge];
  }
  return state;
}

SectionFrozen section_frozen(const SheetModel& model, const SheetState& committed, int triangle,
                             double pressure, bool normal_stress) {
  const TriangleMemory& memory = committed.memory[triangle];
  SectionFrozen frozen;
  frozen.initial_thickness = model.blank.thickness;
  frozen.thickness = memory.thickness;
  frozen.inverse_metric = memory.inverse_metric;
  frozen.elastic = model.elastic;
  if (!normal_stress) return frozen;
  frozen.outer_pressure = memory.fluid_share * pressure;
  frozen.inner_pressure =
      committed.pressure > 0 ? memory.contact_pressure * pressure / committed.pressure : 0;
  return frozen;
}

}  // namespace halftool::solver
