#include "tests/support/tool_meshes.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <random>
#include <vector>

namespace halftool::testing {

mesh::ToolSurface tool_over_square(int n_u, int n_v, double jitter,
                                   const std::function<SurfacePoint(double, double)>& surface) {
  std::mt19937 random(7);
  const auto uniform = [&] {
    return static_cast<double>(random()) / static_cast<double>(std::mt19937::max()) - 0.5;
  };
  const int row = n_u + 1;
  mesh::SurfaceMesh tool;
  mesh::Points normals(row * (n_v + 1), 3);
  tool.nodes.resize(row * (n_v + 1), 3);
  for (int j = 0; j <= n_v; ++j) {
    for (int i = 0; i <= n_u; ++i) {
      const bool inner = i > 0 && j > 0 && i < n_u && j < n_v;
      const double shift_u = inner ? jitter * uniform() : 0;
      const double shift_v = inner ? jitter * uniform() : 0;
      const SurfacePoint point = surface((i + shift_u) / n_u, (j + shift_v) / n_v);
      tool.nodes.row(j * row + i) = point.place;
      normals.row(j * row + i) = point.normal;
    }
  }
  tool.triangles.resize(2 * n_u * n_v, 3);
  for (int j = 0, t = 0; j < n_v; ++j) {
    for (int i = 0; i < n_u; ++i, t += 2) {
      const int a = j * row + i;
      const int b = a + 1, c = a + row + 1, d = a + row;
      if (uniform() > 0) {
        tool.triangles.middleRows<2>(t) << a, b, c, a, c, d;
      } else {
        tool.triangles.middleRows<2>(t) << a, b, d, b, c, d;
      }
    }
  }
  mesh::Points corner_normals(3 * tool.n_triangles(), 3);
  for (int c = 0; c < 3 * tool.n_triangles(); ++c)
    corner_normals.row(c) = normals.row(tool.triangles.data()[c]);
  return {std::move(tool), std::move(corner_normals)};
}

mesh::ToolSurface box_tool(const Eigen::Vector3d& half_size) {
  mesh::SurfaceMesh tool;
  tool.nodes.resize(8, 3);
  for (int i = 0; i < 8; ++i) {
    tool.nodes.row(i) << ((i & 1) != 0 ? 1 : -1) * half_size.x(), ((i & 2) != 0 ? 1 : -1) * half_size.y(),
        ((i & 4) != 0 ? 1 : -1) * half_size.z();
  }
  tool.triangles.resize(12, 3);
  tool.triangles << 0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6,
      1, 3, 5, 3, 7, 5;
  mesh::Points normals(36, 3);
  for (int t = 0; t < 12; ++t) {
    const Eigen::Vector3d a = tool.nodes.row(tool.triangles(t, 0));
    const Eigen::Vector3d b = tool.nodes.row(tool.triangles(t, 1));
    const Eigen::Vector3d c = tool.nodes.row(tool.triangles(t, 2));
    normals.middleRows<3>(3 * t).rowwise() = (b - a).cross(c - a).normalized().transpose();
  }
  return {std::move(tool), std::move(normals)};
}

double box_distance(const Eigen::Vector3d& half_size, const Eigen::Vector3d& x) {
  const Eigen::Vector3d q = x.cwiseAbs() - half_size;
  return q.cwiseMax(0.0).norm() + std::min(q.maxCoeff(), 0.0);
}

}  // namespace halftool::testing
