// Hinged cylindrical panel snapping through: see hinged_panel.hpp.
#include "tests/verification/hinged_panel.hpp"

#include <gtest/gtest.h>

#include <string>

namespace halftool::test {
namespace {

struct Case {
  Panel panel;
  double limit;     // allowed error of the limit load
  double distance;  // of the whole path
};

class HingedPanel : public testing::TestWithParam<Case> {};
INSTANTIATE_TEST_SUITE_P(Thicknesses, HingedPanel,
                         testing::Values(Case{Panel::thick, 0.005, 0.02}, Case{Panel::thin, 0.015, 0.05}));

// 512 irregular triangles on the quarter. The thin panel turns back in load and in deflection.
TEST_P(HingedPanel, SnapsThroughAlongThePublishedPath) {
  const auto table = panel_table(GetParam().panel);
  const PanelPath path = follow_panel(GetParam().panel, {16, 1});
  const double limit = limit_point(path).share / limit_point(table).share - 1;
  const double distance = largest_distance(path, table);
  RecordProperty("limit_load", std::to_string(limit));
  RecordProperty("largest_distance", std::to_string(distance));
  EXPECT_NEAR(limit, 0, GetParam().limit);
  EXPECT_LT(distance, GetParam().distance);
}

}  // namespace
}  // namespace halftool::test
