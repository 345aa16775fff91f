#include "mesh/gmsh_session.hpp"

#include <gmock/gmock.h>
#include <gmsh.h>

#include <cstdio>
#include <thread>

namespace halftool::mesh {
namespace {

using ::testing::HasSubstr;
using ::testing::ThrowsMessage;

/// Meshes a square of side 10 with edges of `size`; returns the number of triangles.
int mesh_square(double size) {
  const GmshSession session;
  int surface = 0;
  session.run("drawing", [&] {
    surface = gmsh::model::occ::addRectangle(0, 0, 0, 10, 10);
    gmsh::model::occ::synchronize();
  });
  session.generate_surface_mesh([&](int, int, double, double, double) { return size; });
  return extract_triangles(session, {surface}).mesh.n_triangles();
}

TEST(GmshSession, ErrorsOfGmshBecomeMeshErrorsThatSayWhatWasDone) {
  const GmshSession session;
  EXPECT_THAT([&] { session.run("copying a face", [] { gmsh::model::occ::addPlaneSurface({77}); }); },
              ThrowsMessage<MeshError>(HasSubstr("copying a face: ")));
}

TEST(GmshSession, OutlineThatCrossesItselfIsAnErrorAndNotTheEndOfTheProcess) {
  const auto cross = [] {
    const GmshSession session;
    session.run("drawing", [] {
      namespace geo = gmsh::model::geo;
      const int a = geo::addPoint(0, 0, 0), b = geo::addPoint(10, 10, 0), c = geo::addPoint(10, 0, 0),
                d = geo::addPoint(0, 10, 0);
      geo::addPlaneSurface({geo::addCurveLoop(
          {geo::addLine(a, b), geo::addLine(b, c), geo::addLine(c, d), geo::addLine(d, a)})});
      geo::synchronize();
    });
    session.generate_surface_mesh([](int, int, double, double, double) { return 3.0; });
  };
  EXPECT_THAT(cross, ThrowsMessage<MeshError>(HasSubstr("meshing: ")));
  EXPECT_GT(mesh_square(2), 20);
}

TEST(GmshSession, WhatTheSizeFunctionThrowsComesThrough) {
  const GmshSession session;
  session.run("drawing", [] {
    gmsh::model::occ::addRectangle(0, 0, 0, 10, 10);
    gmsh::model::occ::synchronize();
  });
  const auto size = [](int, int, double, double, double) -> double { throw MeshError("no size here"); };
  EXPECT_THAT([&] { session.generate_surface_mesh(size); }, ThrowsMessage<MeshError>("no size here"));
}

TEST(GmshSession, ThreadsWaitForOneAnotherAndGetTheSameMesh) {
  const int alone = mesh_square(1);
  std::vector<int> counts(4, 0);
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < counts.size(); ++i)
    threads.emplace_back([&, i] { counts[i] = mesh_square(1); });
  for (auto& thread : threads) thread.join();
  EXPECT_THAT(counts, ::testing::Each(alone));
}

TEST(GmshSession, PrintsNothingAndGivesStandardOutputBack) {
  ::testing::internal::CaptureStdout();
  mesh_square(2);
  std::puts("afterwards");
  EXPECT_EQ(::testing::internal::GetCapturedStdout(), "afterwards\n");
}

TEST(ExtractTriangles, NumbersNodesWithoutGapsAndLeavesCentrePointsOut) {
  const GmshSession session;
  session.run("drawing", [] {
    gmsh::model::occ::addDisk(0, 0, 0, 5, 5);
    gmsh::model::occ::addPoint(0, 0, 3);  // belongs to no face
    gmsh::model::occ::synchronize();
  });
  session.generate_surface_mesh([](int, int, double, double, double) { return 1.0; });
  const SurfaceMesh mesh = extract_triangles(session, {1}).mesh;
  EXPECT_EQ(mesh.triangles.minCoeff(), 0);
  EXPECT_EQ(mesh.triangles.maxCoeff(), mesh.n_nodes() - 1);
  EXPECT_EQ(mesh.nodes.col(2).cwiseAbs().maxCoeff(), 0);
}

}  // namespace
}  // namespace halftool::mesh
