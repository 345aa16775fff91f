#include "mesh/short_edges.hpp"

#include <algorithm>
#include <vector>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double too_short = 0.15;  // of the wanted edge length

Vector2d at(const SurfaceMesh& mesh, int node) {
  return mesh.nodes.row(node).head<2>();
}

double doubled_area(const Vector2d& a, const Vector2d& b, const Vector2d& c) {
  return (b - a).x() * (c - a).y() - (b - a).y() * (c - a).x();
}

int n_planes(const SurfaceMesh& mesh, int node) {
  return static_cast<int>(mesh.nodes(node, 0) == 0) + static_cast<int>(mesh.nodes(node, 1) == 0);
}

/// Triangle t with one node put in another's place.
Eigen::RowVector3i replaced(const SurfaceMesh& mesh, int t, int gone, int kept) {
  Eigen::RowVector3i corners = mesh.triangles.row(t);
  for (int i = 0; i < 3; ++i) corners(i) = corners(i) == gone ? kept : corners(i);
  return corners;
}

bool turns_over(const SurfaceMesh& mesh, int gone, int kept) {
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Eigen::RowVector3i corners = mesh.triangles.row(t);
    const bool has_gone = (corners.array() == gone).any();
    const bool has_kept = (corners.array() == kept).any();
    if (!has_gone || has_kept) continue;
    const Eigen::RowVector3i after = replaced(mesh, t, gone, kept);
    if (doubled_area(at(mesh, after(0)), at(mesh, after(1)), at(mesh, after(2))) <= 0) return true;
  }
  return false;
}

/// Puts `kept` in the place of `gone` and drops what has lost its area; nodes are renumbered.
void merge(SurfaceMesh& mesh, int gone, int kept) {
  int n = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Eigen::RowVector3i corners = replaced(mesh, t, gone, kept);
    if ((corners.array() == kept).count() > 1) continue;
    mesh.triangles.row(n++) = corners.unaryExpr([&](int node) { return node > gone ? node - 1 : node; });
  }
  mesh.triangles.conservativeResize(n, 3);
  const int after = mesh.n_nodes() - gone - 1;
  mesh.nodes.middleRows(gone, after) = mesh.nodes.bottomRows(after).eval();
  mesh.nodes.conservativeResize(mesh.n_nodes() - 1, 3);
}

bool merge_one(SurfaceMesh& mesh, const std::function<double(const Vector2d&)>& wanted) {
  const EdgeTable edges = build_edges(mesh);
  for (int e = 0; e < edges.n_edges(); ++e) {
    if (!edges.is_boundary(e)) continue;
    int gone = edges.nodes(e, 0);
    int kept = edges.nodes(e, 1);
    const Vector2d middle = 0.5 * (at(mesh, gone) + at(mesh, kept));
    if ((at(mesh, gone) - at(mesh, kept)).norm() >= too_short * wanted(middle)) continue;
    if (n_planes(mesh, gone) > n_planes(mesh, kept)) std::swap(gone, kept);
    if (turns_over(mesh, gone, kept)) continue;
    merge(mesh, gone, kept);
    return true;
  }
  return false;
}

}  // namespace

void merge_short_border_edges(SurfaceMesh& mesh, const std::function<double(const Vector2d&)>& wanted) {
  while (merge_one(mesh, wanted)) {
  }
}

}  // namespace halftool::mesh
