#include "solver/springback/alignment.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "tests/solver/springback/bent_strip.hpp"

namespace halftool::solver {
namespace {

TEST(Alignment, TakesARigidMotionAway) {
  const mesh::Blank blank = test::flat_strip(20, 50, 4, 1);
  const mesh::Points formed = test::bend(blank.mesh.nodes, 20, 4, 1.0);
  const Eigen::Matrix3d turn =
      Eigen::AngleAxisd(0.4, Eigen::Vector3d(1, -2, 0.5).normalized()).toRotationMatrix();
  const mesh::Points moved = (formed * turn.transpose()).rowwise() + Eigen::RowVector3d(3, -7, 11);
  const Fit fit = best_fit(blank, formed, moved);
  EXPECT_LT(fit.largest, 1e-10);
  EXPECT_LT(fit.rms, 1e-10);
}

TEST(Alignment, NeverMirrors) {
  const mesh::Blank blank = test::flat_strip(20, 50, 4, 1);
  const mesh::Points formed = test::bend(blank.mesh.nodes, 20, 4, 1.0);
  mesh::Points mirrored = formed;
  mirrored.col(2) *= -1;
  EXPECT_GT(best_fit(blank, formed, mirrored).largest, 1);
}

// With a symmetry plane the whole part is fitted, so the computed half may only slide in the plane's own
// directions.
TEST(Alignment, KeepsTheSymmetryPlane) {
  mesh::Blank blank = test::flat_strip(20, 50, 4, 1);
  test::mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
  const mesh::Points formed = test::bend(blank.mesh.nodes, 20, 4, 1.0);
  const mesh::Points opened = test::bend(blank.mesh.nodes, 20, 4, 0.9);
  const Fit fit = best_fit(blank, formed, opened);
  for (int node = 0; node < blank.mesh.n_nodes(); ++node)
    if (blank.mesh.nodes(node, 0) == 0) {
      EXPECT_NEAR(fit.positions(node, 0), 0, 1e-12);
    }
  EXPECT_GT(fit.largest, 0.1);
}

}  // namespace
}  // namespace halftool::solver
