#include "mesh/surface_mesh.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

namespace halftool::mesh {
namespace {

/// Two triangles over the unit square, diagonal from node 0 to node 2.
SurfaceMesh square() {
  SurfaceMesh mesh;
  mesh.nodes.resize(4, 3);
  mesh.nodes << 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0;
  mesh.triangles.resize(2, 3);
  mesh.triangles << 0, 1, 2, 0, 2, 3;
  return mesh;
}

TEST(BuildEdges, EachSideFacesItsCornerAndIsStoredOnce) {
  const SurfaceMesh mesh = square();

  const EdgeTable edges = build_edges(mesh);

  ASSERT_EQ(edges.n_edges(), 5);
  int n_boundary = 0;
  for (int e = 0; e < 5; ++e) n_boundary += edges.is_boundary(e) ? 1 : 0;
  EXPECT_EQ(n_boundary, 4);
  for (int t = 0; t < 2; ++t) {
    for (int i = 0; i < 3; ++i) {
      const int e = edges.of_triangle(t, i);
      const int tail = mesh.triangles(t, (i + 1) % 3);
      const int head = mesh.triangles(t, (i + 2) % 3);
      const bool forward = edges.sign(t, i) > 0;
      EXPECT_EQ(edges.nodes(e, 0), forward ? tail : head);
      EXPECT_EQ(edges.nodes(e, 1), forward ? head : tail);
    }
  }
  const int diagonal = edges.of_triangle(0, 1);
  EXPECT_EQ(diagonal, edges.of_triangle(1, 2));
  EXPECT_EQ(edges.sign(0, 1), 1);
  EXPECT_EQ(edges.sign(1, 2), -1);
  EXPECT_EQ(edges.triangles(diagonal, 0), 0);
  EXPECT_EQ(edges.triangles(diagonal, 1), 1);
}

TEST(BuildEdges, RefusesNeighboursOfOppositeOrientation) {
  SurfaceMesh mesh = square();
  mesh.triangles.row(1) << 0, 3, 2;
  EXPECT_THAT([&] { build_edges(mesh); },
              ::testing::ThrowsMessage<MeshError>(::testing::HasSubstr("point to opposite sides")));
}

TEST(BuildEdges, RefusesABranchAndNamesThePlace) {
  SurfaceMesh mesh = square();
  mesh.nodes.conservativeResize(5, 3);
  mesh.nodes.row(4) << 0, 0, 1;
  mesh.triangles.conservativeResize(3, 3);
  mesh.triangles.row(2) << 0, 2, 4;
  EXPECT_THAT([&] { build_edges(mesh); },
              ::testing::ThrowsMessage<MeshError>(::testing::HasSubstr("more than two triangles")));
}

TEST(BuildEdges, RefusesUnknownAndRepeatedNodes) {
  SurfaceMesh mesh = square();
  mesh.triangles(1, 2) = 4;
  EXPECT_THROW(build_edges(mesh), MeshError);
  mesh.triangles(1, 2) = 2;
  EXPECT_THROW(build_edges(mesh), MeshError);
}

TEST(SmallestAngles, OfARightTriangleAndAFlatOne) {
  SurfaceMesh mesh = square();
  mesh.nodes.row(1) << std::sqrt(3.0), 0, 0;
  mesh.nodes.row(2) << 0, 1, 0;
  mesh.nodes.row(3) << 0, 2, 0;
  const Eigen::VectorXd angles = smallest_angles(mesh);
  EXPECT_NEAR(angles(0), std::numbers::pi / 6, 1e-14);
  EXPECT_NEAR(angles(1), 0, 1e-14);
}

}  // namespace
}  // namespace halftool::mesh
