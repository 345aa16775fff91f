#pragma once
#include <cmath>

#include "tests/support/blank_of.hpp"

namespace halftool::test {

/// Flat strip along x, (n_along by 2) cells, `length` by `width`.
inline mesh::Blank flat_strip(int n_along, double length, double width, double thickness) {
  mesh::SurfaceMesh mesh;
  const int across = 3;
  mesh.nodes.resize((n_along + 1) * across, 3);
  for (int i = 0; i <= n_along; ++i)
    for (int j = 0; j < across; ++j)
      mesh.nodes.row(i * across + j) << length * i / n_along, width * j / (across - 1), 0;
  mesh.triangles.resize(n_along * (across - 1) * 2, 3);
  int t = 0;
  for (int i = 0; i < n_along; ++i)
    for (int j = 0; j + 1 < across; ++j) {
      const int a = i * across + j;
      mesh.triangles.row(t++) << a, a + across, a + across + 1;
      mesh.triangles.row(t++) << a, a + across + 1, a + 1;
    }
  return blank_of(mesh, thickness);
}

/// The strip bent down about y: flat up to `start`, an arc of `radius` through `angle`, flat again.
inline mesh::Points bend(const mesh::Points& flat, double start, double radius, double angle) {
  mesh::Points bent = flat;
  for (Eigen::Index i = 0; i < flat.rows(); ++i) {
    const double s = flat(i, 0) - start;
    if (s <= 0) continue;
    const double turned = std::min(s / radius, angle);
    const double rest = std::max(s - radius * angle, 0.0);
    bent(i, 0) = start + radius * std::sin(turned) + rest * std::cos(turned);
    bent(i, 2) = -radius * (1 - std::cos(turned)) - rest * std::sin(turned);
  }
  return bent;
}

}  // namespace halftool::test
