// Rim of a hole that is flanged: see ring_flange.hpp. ln(R/R0) of a ring and uniaxial stress along a free
// edge; own arithmetic, closed form.
#include "tests/verification/ring_flange.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "tests/verification/flange_strip.hpp"

namespace halftool::test {
namespace {

// Coarse, four elements over the bend: the edge lies 0.02 mm off the wall, 0.7 % of its strain.
TEST(RingFlange, EdgeOfAHoleStretchesAsItsRadiusGrows) {
  RingFlange setup;
  setup.material = sheet_6061_o();
  setup.elements_per_bend = 4;
  setup.pressure = 20;
  const RingEdge edge = press_ring(setup);
  RecordProperty("strain", std::to_string(edge.strain));
  RecordProperty("thickness_ratio", std::to_string(edge.thickness_strain / edge.strain));
  ASSERT_EQ(edge.broken_off, "");
  EXPECT_TRUE(edge.rests);
  EXPECT_NEAR(edge.strain / edge_strain_on_wall(setup), 1, 0.01);
  EXPECT_NEAR(std::exp(edge.thickness_strain + 0.5 * edge.strain), 1, 0.01);
  EXPECT_NEAR(edge.thickness_strain / edge.strain, -0.5, 0.02);
}

}  // namespace
}  // namespace halftool::test
