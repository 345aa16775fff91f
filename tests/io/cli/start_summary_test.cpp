#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/cli/job_summary.hpp"
#include "mesh/blank.hpp"
#include "tests/support/cuboids.hpp"

namespace halftool::io {
namespace {

using halftool::testing::tool_of;
using ::testing::Contains;
using ::testing::IsSupersetOf;

Case two_step_case() {
  return parse_case(R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift = { strength = "530 MPa", pre_strain = 0.01, exponent = 0.26 } }
[blank]
rectangle = ["190 mm", "60 mm"]
[tool]
kind = "block"
block = { length = "150 mm", width = "60 mm", height = "35 mm", edge_radius = "3 mm" }
[lubrication]
tool_side = { mu = 0.1 }
[[step]]
pressure = "60 MPa"
[[step]]
name = "second"
pressure = "90 MPa"
)",
                    "case.toml");
}

// A heel that rises beside the block up to the first step is screened too, with the pressure that it meets.
TEST(StartSummary, ScreensTheToolHalfOfEachStep) {
  const Case job = two_step_case();
  const halftool::testing::Cuboid block{{-75, -30, 0}, {75, 30, 35}};
  ToolSet set;
  set.tools.push_back(tool_of({block, {{76, -2, 0}, {77, 2, 35}}}));
  set.tools.push_back(tool_of({block}));
  set.tools.front().doubts = {"seen first"};
  set.tools.back().doubts = {"seen last"};
  set.of_step = {0, 1};
  const mesh::Blank blank = mesh::make_blank(job.blank, job.blank_mesh, set.tools.front());
  const Summary summary = start_summary(job, blank, set);
  ASSERT_EQ(summary.screened_tools.size(), 2U);
  EXPECT_EQ(summary.screened_tools[0].from_step, "1");
  EXPECT_EQ(summary.screened_tools[0].pressure, 60);
  EXPECT_EQ(summary.screened_tools[1].from_step, "\"second\"");
  EXPECT_EQ(summary.screened_tools[1].pressure, 90);
  const auto walls = [&](std::size_t tool) {
    for (const solver::Screen& screen : summary.screened_tools[tool].screens)
      for (const solver::Finding& finding : screen.findings)
        if (finding.what == "wall" && finding.at.x() > 75) return true;
    return false;
  };
  EXPECT_TRUE(walls(0));
  EXPECT_FALSE(walls(1));
  EXPECT_THAT(summary.warnings, IsSupersetOf({"tool half from step 1: seen first",
                                              "tool half from step \"second\": seen last"}));
  set.tools.erase(set.tools.begin());
  set.of_step = {0, 0};
  const Summary one = start_summary(job, blank, set);
  ASSERT_EQ(one.screened_tools.size(), 1U);
  EXPECT_EQ(one.screened_tools[0].from_step, "");
  EXPECT_EQ(one.screened_tools[0].pressure, 90);
  EXPECT_THAT(one.warnings, Contains("tool half: seen last"));
}

}  // namespace
}  // namespace halftool::io
