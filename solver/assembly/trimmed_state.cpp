#include "solver/assembly/trimmed_state.hpp"

#include <Eigen/Geometry>

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

/// The curved surface of one triangle: the flat triangle raised along its normal to the element's curvature,
/// zero at its corners.
class CurvedSurface {
 public:
  CurvedSurface(const SheetModel& model, const SheetState& state, int triangle)
      : corners_(triangle_state(model, state.place, state.frames, triangle).positions) {
    const TriangleReference& reference = model.references[triangle];
    const TriangleStrain strain =
        triangle_strain(reference, triangle_state(model, state.place, state.frames, triangle));
    for (int i = 0; i < 3; ++i) {
      gradient_.row(i) = -reference.normal.col(i).transpose() / reference.height(i);
      const Eigen::Vector2d edge = reference.corner.col((i + 2) % 3) - reference.corner.col((i + 1) % 3);
      bend_(i) = strain.value(3) * edge.x() * edge.x() + strain.value(4) * edge.y() * edge.y() +
                 strain.value(5) * edge.x() * edge.y();
    }
    normal_ = (corners_.col(1) - corners_.col(0)).cross(corners_.col(2) - corners_.col(0)).normalized();
  }

  /// @param share  barycentric coordinates
  [[nodiscard]] Vector3d position(const Vector3d& share) const {
    double height = 0;
    for (int i = 0; i < 3; ++i) height -= 0.5 * share((i + 1) % 3) * share((i + 2) % 3) * bend_(i);
    return corners_ * share + height * normal_;
  }

  [[nodiscard]] Vector3d normal(const Vector3d& share) const {
    Eigen::RowVector2d slope = Eigen::RowVector2d::Zero();
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3, k = (i + 2) % 3;
      slope -= 0.5 * bend_(i) * (share(j) * gradient_.row(k) + share(k) * gradient_.row(j));
    }
    const Eigen::Matrix<double, 3, 2> tangents = corners_ * gradient_ + normal_ * slope;
    return tangents.col(0).cross(tangents.col(1)).normalized();
  }

 private:
  Matrix3d corners_;                      // column i: node i
  Eigen::Matrix<double, 3, 2> gradient_;  // row i: of barycentric coordinate i in the reference
  Vector3d bend_;                         // second fundamental form along the edge facing node i
  Vector3d normal_;                       // of the flat triangle
};

class Carrying {
 public:
  Carrying(const SheetModel& before, const SheetState& state, const mesh::TrimmedBlank& cut,
           const SheetModel& after)
      : before_(before), from_(state), cut_(cut), after_(after) {
    for (const int parent : cut.parent) surfaces_.emplace_back(before, state, parent);
  }

  SheetState run() {
    to_.pressure = from_.pressure;
    place_nodes();
    turn_edges();
    for (int t = 0; t < after_.n_triangles(); ++t) carry_metal(t);
    return std::move(to_);
  }

 private:
  // Barycentric coordinates of a point of the flat sheet in the parent of a triangle.
  [[nodiscard]] Vector3d share_in_parent(int triangle, const Eigen::RowVector3d& at) const {
    const auto nodes = before_.blank.mesh.triangles.row(cut_.parent[triangle]);
    const Eigen::RowVector3d a = before_.blank.mesh.nodes.row(nodes(0));
    const Eigen::RowVector3d u = before_.blank.mesh.nodes.row(nodes(1)) - a;
    const Eigen::RowVector3d v = before_.blank.mesh.nodes.row(nodes(2)) - a;
    const Eigen::RowVector3d area = u.cross(v);
    const double second = (at - a).cross(v).dot(area) / area.squaredNorm();
    const double third = u.cross(at - a).dot(area) / area.squaredNorm();
    return {1 - second - third, second, third};
  }

  // Nodes on edges go to the mean of the surfaces around them; all others stay.
  void place_nodes() {
    const mesh::SurfaceMesh& mesh = after_.blank.mesh;
    to_.place.positions = mesh::Points::Zero(mesh.n_nodes(), 3);
    Eigen::VectorXi count = Eigen::VectorXi::Zero(mesh.n_nodes());
    for (int t = 0; t < after_.n_triangles(); ++t) {
      for (const int node : mesh.triangles.row(t)) {
        if (cut_.node_origin[node].unmoved()) continue;
        to_.place.positions.row(node) += surfaces_[t].position(share_in_parent(t, mesh.nodes.row(node)));
        ++count(node);
      }
    }
    for (int node = 0; node < mesh.n_nodes(); ++node) {
      if (count(node) == 0)
        to_.place.positions.row(node) = from_.place.positions.row(cut_.node_origin[node].nodes[0]);
      else
        to_.place.positions.row(node) /= count(node);
      keep_in_plane(node);
    }
  }

  // A node held by a symmetry plane or a rim lies where the ends of its edge lie.
  void keep_in_plane(int node) {
    const Eigen::RowVector3d flat = cut_.node_origin[node].among(from_.place.positions);
    for (int c = 0; c < 3; ++c)
      if (after_.equations.of_node(node, c) < 0) to_.place.positions(node, c) = flat(c);
  }

  void turn_edges() {
    const mesh::EdgeTable& edges = after_.blank.edges;
    to_.frames.resize(static_cast<std::size_t>(edges.n_edges()));
    to_.place.turn.setZero(edges.n_edges());
    to_.place.bow.setZero(edges.n_edges());
    for (int e = 0; e < edges.n_edges(); ++e) {
      if (cut_.edge_origin[e].whole)
        take_over(e);
      else
        turn_to_surface(e);
    }
  }

  // An edge that is as it was, stored from the same tail or the other way round.
  void take_over(int edge) {
    const int old = cut_.edge_origin[edge].edge;
    const bool same =
        cut_.node_origin[after_.blank.edges.nodes(edge, 0)].nodes[0] == before_.blank.edges.nodes(old, 0);
    const double sense = same ? 1 : -1;
    to_.frames[edge] = from_.frames[old];
    to_.frames[edge].tangent *= sense;
    to_.place.turn(edge) = sense * from_.place.turn(old);
    to_.place.bow(edge) = sense * from_.place.bow(old);
  }

  void turn_to_surface(int edge) {
    const auto ends = after_.blank.edges.nodes.row(edge);
    const Eigen::RowVector3d middle =
        0.5 * (after_.blank.mesh.nodes.row(ends(0)) + after_.blank.mesh.nodes.row(ends(1)));
    Vector3d normal = Vector3d::Zero();
    for (const int t : after_.blank.edges.triangles.row(edge))
      if (t >= 0) normal += surfaces_[t].normal(share_in_parent(t, middle));
    EdgeFrame& frame = to_.frames[edge];
    frame.tangent = (to_.place.positions.row(ends(1)) - to_.place.positions.row(ends(0))).normalized();
    frame.director = (normal - normal.dot(frame.tangent) * frame.tangent).normalized();
    const int old = cut_.edge_origin[edge].edge;
    if (old >= 0 && after_.equations.turn(edge) < 0) hold_normal(old, frame);
  }

  // Part of an edge whose turn is held has its normal.
  void hold_normal(int old, EdgeFrame& frame) const {
    const Vector3d normal = mid_side_normal(from_.frames[old], from_.place.turn(old));
    frame.director = (normal - normal.dot(frame.tangent) * frame.tangent).normalized();
  }

  void carry_metal(int t) {
    const int parent = cut_.parent[t];
    const int layers = after_.section.n_points();
    const TriangleState now = triangle_state(after_, to_.place, to_.frames, t);
    const TriangleStrain strain = triangle_strain(after_.references[t], now);
    const TriangleStrain old_strain = triangle_strain(
        before_.references[parent], triangle_state(before_, from_.place, from_.frames, parent));
    TriangleMemory memory = from_.memory[parent];
    const double thickness = memory.thickness;
    const SectionFrozen frozen = section_frozen(before_, from_, parent, from_.pressure, true);
    for (int i = 0; i < layers; ++i) {
      PointState point = from_.points[static_cast<std::size_t>(parent) * layers + i];
      const double z = after_.section.zeta()(i) * thickness;
      point.plastic_strain += layer_strain(section_strain(strain), frozen, z) -
                              layer_strain(section_strain(old_strain), frozen, z);
      to_.points.push_back(point);
    }
    const auto remembered = static_cast<std::ptrdiff_t>(layers) * after_.section.n_history();
    const auto history = from_.history.begin() + parent * remembered;
    to_.history.insert(to_.history.end(), history, history + remembered);
    memory.area *= flat_area(now.positions) /
                   flat_area(triangle_state(before_, from_.place, from_.frames, parent).positions);
    memory.middle = middle_point(after_.references[t], now, strain).position;
    memory.tool_gap = 0;
    to_.memory.push_back(memory);
  }

  static SectionStrain section_strain(const TriangleStrain& strain) {
    return {strain.value.head<3>(), strain.value.tail<3>()};
  }

  static double flat_area(const Matrix3d& corners) {
    return 0.5 * (corners.col(1) - corners.col(0)).cross(corners.col(2) - corners.col(0)).norm();
  }

  const SheetModel& before_;
  const SheetState& from_;
  const mesh::TrimmedBlank& cut_;
  const SheetModel& after_;
  std::vector<CurvedSurface> surfaces_;  // (n_triangles) of each one's parent
  SheetState to_;
};

}  // namespace

SheetState trimmed_state(const SheetModel& before, const SheetState& state, const mesh::TrimmedBlank& cut,
                         const SheetModel& after) {
  return Carrying(before, state, cut, after).run();
}

}  // namespace halftool::solver
