// The unevenness of a blank: its size, symmetry, and where there is none.
#include "mesh/flatness.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double kThickness = 1.6, kTop = 35;  // [mm]

/// Top 100 mm long along x about the origin.
const ToolSurface& block() {
  static const ToolSurface tool = [] {
    ToolSpec spec;
    spec.shape = StraightBlock{100, 200, kTop, 3};
    return make_tool(spec);
  }();
  return tool;
}

BlankSpec blank() {
  BlankSpec spec;
  spec.outline = RectangleOutline{180, 120, 0};
  spec.thickness = kThickness;
  spec.flatness.amplitude = 0.03;
  return spec;
}

/// Heights over the plane at points of the plane.
Eigen::VectorXd heights(const BlankSpec& spec, const std::vector<Vector2d>& at) {
  Points nodes(static_cast<Eigen::Index>(at.size()), 3);
  for (std::size_t i = 0; i < at.size(); ++i)
    nodes.row(static_cast<Eigen::Index>(i)) << at[i].x(), at[i].y(), kTop + kThickness / 2;
  make_uneven(spec, block(), nodes);
  return nodes.col(2).array() - (kTop + kThickness / 2);
}

std::vector<Vector2d> grid(double x0, double x1, double y0, double y1) {
  std::vector<Vector2d> points;
  for (double x = x0; x <= x1; x += 1)
    for (double y = y0; y <= y1; y += 1) points.emplace_back(x, y);
  return points;
}

TEST(Flatness, HasItsRootMeanSquareOffTheTool) {
  const auto points = grid(56, 90, -60, 60);
  for (const int pattern : {1, 2, 3}) {
    BlankSpec spec = blank();
    spec.flatness.pattern = pattern;
    const Eigen::VectorXd height = heights(spec, points);
    const double rms = std::sqrt(height.squaredNorm() / static_cast<double>(height.size()));
    EXPECT_NEAR(rms, 0.01 * kThickness, 0.004 * kThickness) << "pattern " << pattern;
    EXPECT_LT(height.cwiseAbs().maxCoeff(), 2 * 0.03 * kThickness);
  }
}

TEST(Flatness, IsNoneOnTheTool) {
  EXPECT_EQ(heights(blank(), grid(-47, 47, -60, 60)).cwiseAbs().maxCoeff(), 0);
}

TEST(Flatness, IsNoneWhenSwitchedOffOrHeld) {
  BlankSpec spec = blank();
  spec.flatness.amplitude = 0;
  EXPECT_EQ(heights(spec, grid(60, 90, -60, 60)).cwiseAbs().maxCoeff(), 0);
  spec = blank();
  spec.rim_held = true;
  EXPECT_EQ(heights(spec, grid(60, 90, -60, 60)).cwiseAbs().maxCoeff(), 0);
}

TEST(Flatness, IsTheSameForAQuarterAsForTheWhole) {
  const auto points = grid(52, 90, 0, 60);
  BlankSpec quarter = blank();
  quarter.symmetric_x = quarter.symmetric_y = true;
  EXPECT_TRUE(heights(quarter, points).isApprox(heights(blank(), points), 1e-12));
  auto mirrored = points;
  for (Vector2d& x : mirrored) x = -x;
  EXPECT_TRUE(heights(blank(), mirrored).isApprox(heights(blank(), points), 1e-12));
}

// Along the edge of a flange, far from the tool, where the tool plays no part.
TEST(Flatness, TurnsAndMovesWithTheBlank) {
  BlankSpec turned = blank();
  turned.turn = 0.2;
  turned.place = {4, -3};
  const auto points = grid(75, 85, -40, 40);
  auto moved = points;
  for (Vector2d& x : moved) x = Eigen::Rotation2Dd(turned.turn) * x + turned.place;
  EXPECT_TRUE(heights(turned, moved).isApprox(heights(blank(), points), 1e-12));
}

TEST(Flatness, PatternsDiffer) {
  const auto points = grid(60, 90, -60, 60);
  BlankSpec other = blank();
  other.flatness.pattern = 2;
  const Eigen::VectorXd a = heights(blank(), points), b = heights(other, points);
  EXPECT_LT(std::abs(a.dot(b)), 0.6 * a.norm() * b.norm());
}

// The web lies on the tool as a flat one does; planes of symmetry stay planes.
TEST(Flatness, OfAMeshedBlank) {
  BlankSpec spec = blank();
  spec.symmetric_y = true;
  BlankMeshSpec mesh_spec;
  mesh_spec.elements_per_bend = 3;
  const Blank uneven = make_blank(spec, mesh_spec, block());
  const auto z = uneven.mesh.nodes.col(2).array() - (kTop + kThickness / 2);
  EXPECT_GT(z.abs().maxCoeff(), 0.01 * kThickness);
  for (int i = 0; i < uneven.mesh.n_nodes(); ++i) {
    if (std::abs(uneven.mesh.nodes(i, 0)) > 45) continue;
    EXPECT_EQ(z(i), 0);
  }
  spec.flatness.amplitude = 0.6;
  EXPECT_THROW(make_blank(spec, mesh_spec, block()), MeshError);
}

}  // namespace
}  // namespace halftool::mesh
