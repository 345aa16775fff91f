#pragma once
#include "mesh/blank.hpp"

namespace halftool::test {

/// A blank from a mesh made by hand: edges numbered, every border edge `outer`, rolling direction +x.
inline mesh::Blank blank_of(const mesh::SurfaceMesh& mesh, double thickness) {
  mesh::Blank blank;
  blank.mesh = mesh;
  blank.edges = mesh::build_edges(mesh);
  blank.thickness = thickness;
  blank.edge_kind.assign(blank.edges.n_edges(), mesh::EdgeKind::interior);
  for (int e = 0; e < blank.edges.n_edges(); ++e)
    if (blank.edges.is_boundary(e)) blank.edge_kind[e] = mesh::EdgeKind::outer;
  return blank;
}

/// Marks the border edges that lie in the plane x(axis) = value.
inline void mark_border(mesh::Blank& blank, int axis, double value, mesh::EdgeKind kind) {
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (!blank.edges.is_boundary(e)) continue;
    const double a = blank.mesh.nodes(blank.edges.nodes(e, 0), axis) - value;
    const double b = blank.mesh.nodes(blank.edges.nodes(e, 1), axis) - value;
    if (a * a + b * b < 1e-16) blank.edge_kind[e] = kind;
  }
}

}  // namespace halftool::test
