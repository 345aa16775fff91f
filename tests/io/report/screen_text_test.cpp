#include "io/report/screen_text.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>
#include <sstream>

namespace halftool::io {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

std::vector<solver::Screen> invented_screens() {
  solver::Finding radius;
  radius.what = "inside radius";
  radius.found = {"pressure needed", 208.04, "MPa"};
  radius.limit = {"peak pressure", 100, "MPa"};
  radius.formula = "p = (2/sqrt 3) sigma t/r";
  radius.inputs = {
      {"sigma", 902, "MPa"}, {"t", 1.2, "mm"}, {"r", 6, "mm"}, {"a very long name of one more input", 1, ""}};
  radius.at = {1.25, -2, 3};
  radius.caution =
      "the sheet stands off there and keeps a larger radius, whatever lubricant it is pressed with";
  solver::Screen fill{"inside radii", "hollow edges that need more than the peak pressure", "", {radius}, 2};
  radius.tripped = false;
  radius.limit = {};
  radius.found.value = std::numeric_limits<double>::infinity();
  return {fill,
          {"openings", "holes and slots", "", {}, 0},
          {"walls", "walls and rings", "tool.allowed_stress is not given", {radius}, 0},
          {"stretch", "gaps", "the surface is open", {}, 0}};
}

TEST(ScreenText, TellsWhichRanAndWhichTripped) {
  const std::string text = print_screens(invented_screens(), "# ");
  EXPECT_THAT(text, HasSubstr("2 of 4 screens run, 1 tripped\n"));
  EXPECT_THAT(text, HasSubstr("#   inside radii: TRIPPED [hollow edges"));
  EXPECT_THAT(text, HasSubstr("#   openings: not tripped [holes and slots]\n"));
  EXPECT_THAT(text, HasSubstr("#   walls: not judged, tool.allowed_stress is not given ["));
  EXPECT_THAT(text, HasSubstr("#   stretch: not run, the surface is open ["));
  EXPECT_THAT(
      text,
      HasSubstr("inside radius at (1.2, -2.0, 3.0) mm: pressure needed 208 MPa (peak pressure 100 MPa)\n"));
  EXPECT_THAT(text, HasSubstr("p = (2/sqrt 3) sigma t/r; sigma = 902 MPa, t = 1.2 mm, r = 6 mm,"));
  EXPECT_THAT(text, HasSubstr("pressure needed without bound\n"));
  EXPECT_THAT(text, HasSubstr("- and 2 more\n"));
}

TEST(ScreenText, FitsATerminalAndNeverClears) {
  const std::string text = print_screens(invented_screens(), "# ");
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(line.size(), 100U) << line;
    EXPECT_THAT(line, StartsWith("# "));
  }
  EXPECT_THAT(text, Not(HasSubstr("safe")));
  EXPECT_THAT(text, HasSubstr("is not cleared by it"));
}

}  // namespace
}  // namespace halftool::io
