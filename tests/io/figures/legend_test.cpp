#include <gtest/gtest.h>

#include <algorithm>

#include "io/figures/panel_chart.hpp"
#include "tests/io/figures/read_png.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

/// Least red at the valley of a line that runs from above to (x, 0.02) and up again, below the words of a
/// legend.
int darkest_at_valley(double x) {
  const halftool::test::ScratchFolder folder;
  const auto path = folder.path() / "valley.png";
  ChartPanel panel{"Heading", "x", "y"};
  panel.lines = {{"a line whose name is to make it all wide", {{0, 0.6}, {x, 0.02}, {1, 0.6}}}};
  panel.values = {Eigen::Vector2d(0, 0), Eigen::Vector2d(1, 1)};
  draw_panel_chart(path, {"Title", "subtitle", "credential"}, {panel});
  const Image image = test::read_png(path);
  const int column = 130 + static_cast<int>(x * 1426), row = 740 - static_cast<int>(0.02 * 550);
  int least = 255;
  for (int i = -12; i <= 12; ++i)
    for (int j = -1; j <= 3; ++j)
      least = std::min(least, std::get<0>(test::pixel(image, column + i, row + j)));
  return least;
}

TEST(Legend, LeavesALineFreeAtTheLowerRight) {
  EXPECT_LT(darkest_at_valley(0.3), 60);
  EXPECT_LT(darkest_at_valley(0.85), 60);
}

}  // namespace
}  // namespace halftool::io
