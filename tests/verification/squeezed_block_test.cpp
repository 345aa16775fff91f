// Sheet between fluid and flat tool, stretched with its width held: see squeezed_block.hpp. Exact.
#include "tests/verification/squeezed_block.hpp"

#include <gtest/gtest.h>

namespace halftool::test {
namespace {

TEST(SqueezedBlock, YieldsAndFlowsAtTheShiftedStress) {
  for (const PointSheet& sheet : point_sheets())
    for (const double pressure : {0.0, 60.0, 100.0})
      for (const bool across_rolling : {false, true}) {
        SCOPED_TRACE(sheet.name);
        const SqueezedBlock block = stretch_squeezed_block(sheet, pressure, across_rolling);
        EXPECT_NEAR(block.first_yield, block.exact_first_yield, 1e-9 * 250);
        EXPECT_NEAR(block.flow, block.exact_flow, 1e-9 * 250);
      }
}

}  // namespace
}  // namespace halftool::test
