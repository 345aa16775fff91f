#include "mesh/orientation.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

TEST(OrientOutward, TurnsMixedTrianglesOfABoxOutward) {
  const ToolSurface box = testing::box_tool({1, 2, 3});
  SurfaceMesh mesh = box.mesh();
  for (int t = 0; t < mesh.n_triangles(); t += 3) std::swap(mesh.triangles(t, 0), mesh.triangles(t, 1));
  EXPECT_EQ(orient_outward(mesh), 0);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)), b = mesh.nodes.row(mesh.triangles(t, 1)),
                          c = mesh.nodes.row(mesh.triangles(t, 2));
    EXPECT_GT((b - a).cross(c - a).dot(a + b + c), 0);
  }
}

TEST(OrientOutward, OpenPieceFacesUpAndIsCounted) {
  SurfaceMesh mesh;
  mesh.nodes.resize(4, 3);
  mesh.nodes << 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0;
  mesh.triangles.resize(2, 3);
  mesh.triangles << 0, 2, 1, 0, 2, 3;  // the first faces down, the second up
  EXPECT_EQ(orient_outward(mesh), 1);
  for (int t = 0; t < 2; ++t) {
    const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)), b = mesh.nodes.row(mesh.triangles(t, 1)),
                          c = mesh.nodes.row(mesh.triangles(t, 2));
    EXPECT_GT((b - a).cross(c - a).z(), 0);
  }
}

TEST(OrientOutward, RefusesABranchAndATwistedBand) {
  SurfaceMesh mesh;
  mesh.nodes.resize(5, 3);
  mesh.nodes << 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1;
  mesh.triangles.resize(3, 3);
  mesh.triangles << 0, 1, 2, 0, 2, 3, 0, 2, 4;
  EXPECT_THROW(orient_outward(mesh), MeshError);
  // Five triangles around a Moebius band.
  mesh.triangles.resize(5, 3);
  for (int t = 0; t < 5; ++t) mesh.triangles.row(t) << t, (t + 1) % 5, (t + 2) % 5;
  EXPECT_THROW(orient_outward(mesh), MeshError);
}

}  // namespace
}  // namespace halftool::mesh
