#include <gtest/gtest.h>

#include "solver/springback/release.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

Eigen::Index n_supports(bool symmetric_x, bool symmetric_y) {
  mesh::Blank blank = blank_of(rectangle(4, 1, 8, 2), 0.1);
  if (symmetric_x) mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
  if (symmetric_y) mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
  const solver::SheetModel model = elastic_model(blank, 70000, 0.3);
  return solver::minimal_supports(model, blank.mesh.nodes).size();
}

TEST(MinimalSupports, AreAsManyAsTheRigidMotionsThatAreOpen) {
  EXPECT_EQ(n_supports(false, false), 6);
}

// The nodes of a flat part in a symmetry plane lie on one straight line: only the held turns of its edges
// keep the part from rotating about it.
TEST(MinimalSupports, AStraightEdgeInASymmetryPlaneIsNoHinge) {
  EXPECT_EQ(n_supports(true, false), 3);
  EXPECT_EQ(n_supports(true, true), 1);
}

}  // namespace
}  // namespace halftool::test
