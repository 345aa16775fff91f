#include "mesh/mesh_check.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <string>

namespace halftool::mesh {
namespace {

/// Nodes 0 to 3 around a square of 2, node 4 in its middle; triangle t has the side t and the middle.
SurfaceMesh fan() {
  SurfaceMesh mesh;
  mesh.nodes.resize(5, 3);
  mesh.nodes << 0, 0, 5, 2, 0, 5, 2, 2, 5, 0, 2, 5, 1, 1, 5;
  mesh.triangles.resize(4, 3);
  mesh.triangles << 0, 1, 4, 1, 2, 4, 2, 3, 4, 3, 0, 4;
  return mesh;
}

std::string message_of(const SurfaceMesh& mesh) {
  try {
    check_triangles(mesh, build_edges(mesh));
  } catch (const MeshError& error) {
    return error.what();
  }
  return "accepted";
}

TEST(CheckTriangles, AcceptsASoundMesh) {
  EXPECT_EQ(message_of(fan()), "accepted");
}

TEST(CheckTriangles, NamesATriangleTurnedOver) {
  SurfaceMesh mesh = fan();
  mesh.nodes.row(4) << 1, -0.5, 5;  // past the side 0 to 1
  EXPECT_EQ(
      message_of(mesh),
      "triangle 0 of the blank, with the corners (0, 0, 5), (2, 0, 5) and (1, -0.5, 5) mm, is turned over: "
      "it lies folded back on its neighbours; move its nodes apart, or choose another edge length");
}

TEST(CheckTriangles, NamesANeedle) {
  SurfaceMesh mesh = fan();
  mesh.nodes.row(4) << 1, 0.01, 5;
  EXPECT_EQ(
      message_of(mesh),
      "triangle 0 of the blank, with the corners (0, 0, 5), (2, 0, 5) and (1, 0.01, 5) mm, is a needle: its "
      "smallest angle is 0.572939 degrees, at least 1 is needed; round or cut off the sharp corner of the "
      "outline there, or choose another edge length");
}

TEST(CheckTriangles, NamesATriangleWithoutArea) {
  SurfaceMesh mesh = fan();
  mesh.nodes.row(4) << 1.5, 2, 5;  // on the side 2 to 3
  EXPECT_EQ(
      message_of(mesh),
      "triangle 2 of the blank, with the corners (2, 2, 5), (0, 2, 5) and (1.5, 2, 5) mm, has no area: its "
      "corners lie on a line; move one of them off the line, or mesh anew");
}

TEST(CheckTriangles, NamesAnEdgeWithoutLength) {
  SurfaceMesh mesh = fan();
  mesh.nodes.row(4) = mesh.nodes.row(2);
  EXPECT_EQ(
      message_of(mesh),
      "triangle 1 of the blank, with the corners (2, 0, 5), (2, 2, 5) and (2, 2, 5) mm, has an edge without "
      "length, from node 2 to node 4; merge the two nodes, or drop the shortest piece of the outline there");
}

TEST(CheckTriangles, NamesACornerThatIsNoPlace) {
  SurfaceMesh mesh = fan();
  mesh.nodes(3, 1) = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(
      message_of(mesh),
      "triangle 2 of the blank, with the corners (2, 2, 5), (0, nan, 5) and (1, 1, 5) mm, has a corner that "
      "is no place; give every node finite coordinates");
}

TEST(CheckTriangles, LeavesACurvedSheetAlone) {
  SurfaceMesh mesh = fan();
  mesh.nodes(4, 2) = 5.9;  // a pyramid, neighbours at an angle below 90 degrees
  EXPECT_EQ(message_of(mesh), "accepted");
}

}  // namespace
}  // namespace halftool::mesh
