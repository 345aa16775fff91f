#include "tests/support/exact_surface.hpp"

#include <Eigen/Geometry>
#include <cmath>

namespace halftool::test {
namespace {

using Eigen::Vector3d;

solver::EdgeFrame frame_on(const mesh::SurfaceMesh& sheet, const mesh::EdgeTable& edges, int edge,
                           const ExactSurface& surface) {
  const Vector3d tail = sheet.nodes.row(edges.nodes(edge, 0)).transpose();
  const Vector3d head = sheet.nodes.row(edges.nodes(edge, 1)).transpose();
  const Vector3d tangent = (surface.place(head) - surface.place(tail)).normalized();
  const Vector3d normal = surface.normal(0.5 * (tail + head));
  return {tangent, (normal - normal.dot(tangent) * tangent).normalized()};
}

}  // namespace

ExactSurface plane() {
  return {[](const Vector3d& x) { return x; }, [](const Vector3d&) { return Vector3d::UnitZ().eval(); }};
}

ExactSurface cylinder(double radius) {
  return {[radius](const Vector3d& x) -> Vector3d {
            const double at = x.x() / radius;
            return {radius * std::sin(at), x.y(), radius * (1 - std::cos(at))};
          },
          [radius](const Vector3d& x) -> Vector3d {
            const double at = x.x() / radius;
            return {-std::sin(at), 0, std::cos(at)};
          }};
}

ExactSurface paraboloid(double k11, double k22, double k12) {
  return {[=](const Vector3d& x) -> Vector3d {
            return {x.x(), x.y(), 0.5 * (k11 * x.x() * x.x() + k22 * x.y() * x.y()) + k12 * x.x() * x.y()};
          },
          [=](const Vector3d& x) -> Vector3d {
            return Vector3d(-k11 * x.x() - k12 * x.y(), -k12 * x.x() - k22 * x.y(), 1).normalized();
          }};
}

double turn_towards(const solver::EdgeFrame& frame, const Vector3d& tangent, const Vector3d& direction) {
  const Vector3d director = solver::transport(frame, tangent).director;
  return std::atan2(direction.dot(tangent.cross(director)), direction.dot(director));
}

std::vector<solver::TriangleState> states_on(const mesh::SurfaceMesh& sheet, const ExactSurface& surface) {
  const mesh::EdgeTable edges = mesh::build_edges(sheet);
  std::vector<solver::TriangleState> states(sheet.n_triangles());
  for (int t = 0; t < sheet.n_triangles(); ++t) {
    solver::TriangleState& state = states[t];
    state.turn.setZero();
    state.bow.setZero();
    for (int i = 0; i < 3; ++i) {
      state.positions.col(i) = surface.place(sheet.nodes.row(sheet.triangles(t, i)).transpose());
      state.frames[i] = frame_on(sheet, edges, edges.of_triangle(t, i), surface);
    }
  }
  return states;
}

std::vector<solver::TriangleReference> references_of(const mesh::SurfaceMesh& sheet,
                                                     const std::vector<solver::TriangleState>& states,
                                                     const Eigen::Vector3d& axis) {
  const mesh::EdgeTable edges = mesh::build_edges(sheet);
  std::vector<solver::TriangleReference> references;
  for (int t = 0; t < sheet.n_triangles(); ++t) {
    const Vector3d sign = edges.sign.row(t).cast<double>().transpose();
    references.push_back(solver::make_reference(states[t].positions, axis, sign, states[t]));
  }
  return references;
}

}  // namespace halftool::test
