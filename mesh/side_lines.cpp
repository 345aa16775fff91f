#include "mesh/side_lines.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/facet_regions.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
constexpr double same_normal = 1e-3;
constexpr double most_bend = 0.35;  // [rad] from one side of a line to the next
constexpr double most_ratio = 2.5;  // of their lengths

double angle_between(const Vector3d& a, const Vector3d& b) {
  return std::atan2(a.cross(b).norm(), a.dot(b));
}

}  // namespace

Sample SideLine::middle() const {
  std::array<double, 4> at{0, 0, (points[2]->place - points[1]->place).norm(), 0};
  if (points[0]) at[0] = -(points[1]->place - points[0]->place).norm();
  if (points[3]) at[3] = at[2] + (points[3]->place - points[2]->place).norm();
  const double x = 0.5 * at[2];
  Sample result{Vector3d::Zero(), Vector3d::Zero()};
  for (std::size_t i = 0; i < 4; ++i) {
    if (!points[i]) continue;
    double weight = 1;
    for (std::size_t k = 0; k < 4; ++k) {
      if (k != i && points[k]) weight *= (x - at[k]) / (at[i] - at[k]);
    }
    result.place += weight * points[i]->place;
    result.normal += weight * points[i]->normal;
  }
  result.normal.normalize();
  return result;
}

double SideLine::turn() const {
  const Vector3d way = points[2]->place - points[1]->place;
  double turn = angle_between(points[1]->normal, points[2]->normal);
  if (points[0]) turn = std::max(turn, angle_between(points[1]->place - points[0]->place, way));
  if (points[3]) turn = std::max(turn, angle_between(points[3]->place - points[2]->place, way));
  return turn;
}

SideLines::SideLines(const SurfaceMesh& mesh, const Points& normals, const EdgeTable& edges)
    : mesh_(mesh), normals_(normals), edges_(edges), flat_(facet_normals(mesh)) {
  diagonal_.assign(static_cast<std::size_t>(edges.n_edges()), false);
  edges_at_.resize(static_cast<std::size_t>(mesh.n_nodes()));
  for (int e = 0; e < edges.n_edges(); ++e) {
    for (int k = 0; k < 2; ++k) edges_at_[static_cast<std::size_t>(edges.nodes(e, k))].push_back(e);
    diagonal_[static_cast<std::size_t>(e)] = !edges.is_boundary(e) &&
                                             least_turning(edges.triangles(e, 0)) == e &&
                                             least_turning(edges.triangles(e, 1)) == e;
  }
}

double SideLines::length(int edge) const {
  return (node(edges_.nodes(edge, 1)) - node(edges_.nodes(edge, 0))).norm();
}

int SideLines::longest(int triangle) const {
  int best = edges_.of_triangle(triangle, 0);
  for (int i = 1; i < 3; ++i) {
    if (length(edges_.of_triangle(triangle, i)) > length(best)) best = edges_.of_triangle(triangle, i);
  }
  return best;
}

double SideLines::turn_across(int edge) const {
  if (edges_.is_boundary(edge)) return std::numbers::pi;
  return angle_between(flat_.row(edges_.triangles(edge, 0)), flat_.row(edges_.triangles(edge, 1)));
}

int SideLines::least_turning(int triangle) const {
  std::array<int, 3> sides{edges_.of_triangle(triangle, 0), edges_.of_triangle(triangle, 1),
                           edges_.of_triangle(triangle, 2)};
  std::sort(sides.begin(), sides.end(), [&](int a, int b) { return length(a) > length(b); });
  const double first = turn_across(sides[0]), second = turn_across(sides[1]);
  if (first < 0.5 * second) return sides[0];
  return second < 0.5 * first ? sides[1] : -1;
}

Vector3d SideLines::normal_at(int triangle, int node) const {
  for (int i = 0; i < 3; ++i) {
    if (mesh_.triangles(triangle, i) == node) return normals_.row(3 * triangle + i);
  }
  return Vector3d::Zero();
}

std::optional<Sample> SideLines::next(int edge, int from, const Vector3d& normal) const {
  const int other_end = edges_.nodes(edge, 0) == from ? edges_.nodes(edge, 1) : edges_.nodes(edge, 0);
  const Vector3d way = node(from) - node(other_end);
  std::optional<Sample> best;
  double least = most_bend;
  for (const int candidate : edges_at_[static_cast<std::size_t>(from)]) {
    if (candidate == edge || is_diagonal(candidate)) continue;
    const int to =
        edges_.nodes(candidate, 0) == from ? edges_.nodes(candidate, 1) : edges_.nodes(candidate, 0);
    const Vector3d on = node(to) - node(from);
    const double ratio = on.norm() / way.norm();
    const double bend = angle_between(way, on);
    if (bend >= least || ratio > most_ratio || ratio < 1 / most_ratio) continue;
    for (int side = 0; side < 2; ++side) {
      const int t = edges_.triangles(candidate, side);
      if (t < 0 || (normal_at(t, from) - normal).norm() > same_normal) continue;
      best = Sample{node(to), normal_at(t, to)};
      least = bend;
      break;
    }
  }
  return best;
}

SideLine SideLines::line_through(int edge, int triangle) const {
  const int a = edges_.nodes(edge, 0), b = edges_.nodes(edge, 1);
  const Sample first{node(a), normal_at(triangle, a)}, last{node(b), normal_at(triangle, b)};
  return {{next(edge, a, first.normal), first, last, next(edge, b, last.normal)}};
}

}  // namespace halftool::mesh
