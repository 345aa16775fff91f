#include "mesh/mesh_quality.hpp"

#include <gtest/gtest.h>

#include <numbers>

namespace halftool::mesh {
namespace {

/// A 4 x 4 grid with one inner node almost on its neighbour and one diagonal the wrong way.
SurfaceMesh spoiled_grid() {
  SurfaceMesh mesh;
  mesh.nodes.resize(25, 3);
  for (int i = 0; i < 25; ++i) mesh.nodes.row(i) << i % 5, i / 5, 0.0;
  mesh.triangles.resize(32, 3);
  for (int j = 0, t = 0; j < 4; ++j) {
    for (int i = 0; i < 4; ++i, t += 2) {
      const int a = 5 * j + i;
      mesh.triangles.middleRows<2>(t) << a, a + 1, a + 6, a, a + 6, a + 5;
    }
  }
  mesh.nodes.row(12).head<2>() << 2.9, 2.05;
  return mesh;
}

double area(const SurfaceMesh& mesh) {
  double sum = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const auto a = mesh.nodes.row(mesh.triangles(t, 0)), b = mesh.nodes.row(mesh.triangles(t, 1)),
               c = mesh.nodes.row(mesh.triangles(t, 2));
    sum += 0.5 * ((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x()));
  }
  return sum;
}

TEST(ImproveAngles, MendsABadNodeAndKeepsTheBorder) {
  SurfaceMesh mesh = spoiled_grid();
  const SurfaceMesh before = mesh;
  std::vector<bool> fixed(25, false);
  for (int i = 0; i < 25; ++i)
    fixed[static_cast<std::size_t>(i)] = i % 5 == 0 || i % 5 == 4 || i < 5 || i >= 20;
  ASSERT_LT(smallest_angles(mesh).minCoeff(), 0.1);

  improve_angles(mesh, fixed, 30 * std::numbers::pi / 180);

  EXPECT_GT(smallest_angles(mesh).minCoeff(), 30 * std::numbers::pi / 180);
  EXPECT_NEAR(area(mesh), 16, 1e-12);
  EXPECT_NO_THROW(build_edges(mesh));
  for (int i = 0; i < 25; ++i) {
    if (fixed[static_cast<std::size_t>(i)]) {
      EXPECT_EQ(mesh.nodes.row(i), before.nodes.row(i));
    }
  }
}

TEST(ImproveAngles, LeavesAGoodMeshAlone) {
  SurfaceMesh mesh = spoiled_grid();
  mesh.nodes.row(12).head<2>() << 2, 2;
  const SurfaceMesh before = mesh;
  improve_angles(mesh, std::vector<bool>(25, false), 30 * std::numbers::pi / 180);
  EXPECT_EQ(mesh.nodes, before.nodes);
  EXPECT_EQ(mesh.triangles, before.triangles);
}

}  // namespace
}  // namespace halftool::mesh
