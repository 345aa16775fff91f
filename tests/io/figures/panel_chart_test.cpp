#include "io/figures/panel_chart.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

std::string drawn(const std::string& name) {
  const halftool::test::ScratchFolder folder;
  const auto path = folder.path() / name;
  ChartPanel panel{"Heading", "x", "y", {{"first", {{0, 1}, {1, 2}}}, {"second", {{0, 2}, {1, 1}}}}};
  panel.points = {{0.5, 1.5}};
  panel.points_name = "test";
  panel.values = chart_values(panel.lines, panel.points);
  ChartPanel empty{"Other", "x", "y"};
  empty.values = {Eigen::Vector2d(0, 0), Eigen::Vector2d(1, 1)};
  draw_panel_chart(path, {"Title (guessed)", "subtitle", "credential"}, {panel, empty});
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

TEST(PanelChart, IsTheSameEachTime) {
  const auto first = drawn("panels.svg");
  EXPECT_THAT(first, testing::HasSubstr("<svg"));
  EXPECT_EQ(first, drawn("panels.svg"));
  EXPECT_GT(drawn("panels.png").size(), 5000U);
}

TEST(PanelChart, ShowsAllValuesOnRoundNumbersFromZero) {
  const auto box = chart_values({{"a", {{0.1, 90}, {0.47, 310}}}}, {{-0.2, 330}});
  EXPECT_LE(box.min().x(), -0.2);
  EXPECT_GE(box.max().x(), 0.47);
  EXPECT_EQ(box.min().y(), 0);
  EXPECT_GE(box.max().y(), 330);
  EXPECT_NEAR(box.max().y() / 50, std::round(box.max().y() / 50), 1e-9);
}

TEST(PanelChart, SaysWhereItCannotWrite) {
  EXPECT_THROW(draw_panel_chart(
                   "/nowhere/at/all.svg", {},
                   {ChartPanel{"a", "x", "y", {}, {}, {}, {Eigen::Vector2d(0, 0), Eigen::Vector2d(1, 1)}}}),
               WriteError);
}

}  // namespace
}  // namespace halftool::io
