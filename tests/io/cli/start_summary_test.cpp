#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/cli/job_summary.hpp"
#include "mesh/blank.hpp"
#include "tests/end_to_end/bracket.hpp"
#include "tests/support/cuboids.hpp"

namespace halftool::io {
namespace {

using halftool::testing::tool_of;
using ::testing::Contains;
using ::testing::IsSupersetOf;

// A heel that rises beside the block up to the first step is screened too, with the pressure that it meets.
TEST(StartSummary, ScreensTheToolHalfOfEachStep) {
  const std::string second = "[[step]]\nname = \"second\"\npressure = \"90 MPa\"\n";
  const Case job = parse_case(test::bracket("60 MPa", second + test::no_forming_limit), "case.toml");
  const halftool::testing::Cuboid block{{-30, -5, 0}, {30, 5, 35}};
  ToolSet set;
  set.tools.push_back(tool_of({block, {{31, -2, 0}, {32, 2, 35}}}));
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
        if (finding.what == "wall" && finding.at.x() > 30) return true;
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
