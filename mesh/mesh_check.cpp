#include "mesh/mesh_check.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <numbers>
#include <sstream>

namespace halftool::mesh {
namespace {

constexpr double kLeastAngle = std::numbers::pi / 180;
constexpr double kNoLength = 1e-9;  // of the triangle's longest edge
constexpr double kNoAngle = 1e-9;   // [rad], rounding

Eigen::Vector3d corner(const SurfaceMesh& mesh, int triangle, int i) {
  return mesh.nodes.row(mesh.triangles(triangle, i % 3)).transpose();
}

Eigen::Vector3d area_vector(const SurfaceMesh& mesh, int triangle) {
  const Eigen::Vector3d a = corner(mesh, triangle, 0);
  return 0.5 * (corner(mesh, triangle, 1) - a).cross(corner(mesh, triangle, 2) - a);
}

std::string point(const Eigen::Vector3d& x) {
  std::ostringstream text;
  text << '(' << x.x() << ", " << x.y() << ", " << x.z() << ')';
  return text.str();
}

[[noreturn]] void refuse(const SurfaceMesh& mesh, int triangle, const std::string& what,
                         const std::string& mend) {
  throw MeshError("triangle " + std::to_string(triangle) + " of the blank, with the corners " +
                  point(corner(mesh, triangle, 0)) + ", " + point(corner(mesh, triangle, 1)) + " and " +
                  point(corner(mesh, triangle, 2)) + " mm, " + what + "; " + mend);
}

void check_edges(const SurfaceMesh& mesh, int triangle) {
  double longest = 0;
  for (int i = 0; i < 3; ++i)
    longest = std::max(longest, (corner(mesh, triangle, i + 1) - corner(mesh, triangle, i)).norm());
  for (int i = 0; i < 3; ++i) {
    const double length = (corner(mesh, triangle, i + 1) - corner(mesh, triangle, i)).norm();
    if (length > kNoLength * longest) continue;
    refuse(mesh, triangle,
           "has an edge without length, from node " + std::to_string(mesh.triangles(triangle, i)) +
               " to node " + std::to_string(mesh.triangles(triangle, (i + 1) % 3)),
           "merge the two nodes, or drop the shortest piece of the outline there");
  }
}

void check_shape(const SurfaceMesh& mesh, int triangle, double smallest_angle) {
  if (smallest_angle >= kLeastAngle) return;
  if (smallest_angle < kNoAngle)
    refuse(mesh, triangle, "has no area: its corners lie on a line",
           "move one of them off the line, or mesh anew");
  std::ostringstream what;
  what << "is a needle: its smallest angle is " << smallest_angle / kLeastAngle
       << " degrees, at least 1 is needed";
  refuse(mesh, triangle, what.str(),
         "round or cut off the sharp corner of the outline there, or choose another edge length");
}

// Of two triangles that lie on each other, the one that also lies on its other neighbours is turned over.
int folds(const SurfaceMesh& mesh, const EdgeTable& edges, int triangle) {
  int count = 0;
  for (int i = 0; i < 3; ++i) {
    const int edge = edges.of_triangle(triangle, i);
    if (edges.is_boundary(edge)) continue;
    const int other =
        edges.triangles(edge, 0) == triangle ? edges.triangles(edge, 1) : edges.triangles(edge, 0);
    if (area_vector(mesh, triangle).dot(area_vector(mesh, other)) < 0) count += 1;
  }
  return count;
}

void check_folds(const SurfaceMesh& mesh, const EdgeTable& edges) {
  int worst = -1;
  int most = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t)
    if (const int count = folds(mesh, edges, t); count > most) {
      most = count;
      worst = t;
    }
  if (worst < 0) return;
  refuse(mesh, worst, "is turned over: it lies folded back on its neighbours",
         "move its nodes apart, or choose another edge length");
}

}  // namespace

void check_triangles(const SurfaceMesh& mesh, const EdgeTable& edges) {
  for (int t = 0; t < mesh.n_triangles(); ++t)
    for (int i = 0; i < 3; ++i)
      if (!corner(mesh, t, i).allFinite())
        refuse(mesh, t, "has a corner that is no place", "give every node finite coordinates");
  const Eigen::VectorXd angles = smallest_angles(mesh);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    check_edges(mesh, t);
    check_shape(mesh, t, angles(t));
  }
  check_folds(mesh, edges);
}

}  // namespace halftool::mesh
