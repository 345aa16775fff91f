#include "solver/assembly/sheet_model.hpp"

#include <gtest/gtest.h>

#include <string>

#include "tests/support/blank_of.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/reference_sheets.hpp"

namespace halftool::test {
namespace {

// Whoever makes the blank: no model of a sheet that cannot be computed.
TEST(MakeModel, RefusesATriangleTurnedOver) {
  mesh::Blank blank = blank_of(rectangle(4, 2, 4, 2), 1);
  blank.mesh.nodes.row(6) << 3.5, 1, 0;  // the inner node at (1, 1), pushed past two others
  std::string message = "accepted";
  try {
    solver::make_model(blank, mild_steel(), 3, true);
  } catch (const mesh::MeshError& error) {
    message = error.what();
  }
  EXPECT_EQ(message,
            "triangle 3 of the blank, with the corners (1, 0, 0), (2, 1, 0) and (3.5, 1, 0) mm, is turned "
            "over: it lies "
            "folded back on its neighbours; move its nodes apart, or choose another edge length");
}

TEST(PadShare, FallsFromFullToNothingOverOneOctaveOfCurvature) {
  EXPECT_EQ(solver::pad_share(-0.2, 10), 1);
  EXPECT_EQ(solver::pad_share(0.09, 10), 1);
  EXPECT_EQ(solver::pad_share(0.1, 10), 1);
  EXPECT_NEAR(solver::pad_share(0.15, 10), 0.5, 1e-15);
  EXPECT_EQ(solver::pad_share(0.2, 10), 0);
  EXPECT_EQ(solver::pad_share(5, 10), 0);
}

}  // namespace
}  // namespace halftool::test
