#include "io/cli/setup_checks.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace halftool::io {
namespace {

using testing::HasSubstr;

/// A sheet of 1 mm over a block of 30 by 8 mm, 15 mm high.
Case block_case(const std::string& blank, const std::string& more = "") {
  return parse_case(R"([sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift = { strength = "530 MPa", pre_strain = 0.01, exponent = 0.26 } }
[tool]
kind = "block"
block = { length = "30 mm", width = "8 mm", height = "15 mm", edge_radius = "3 mm" }
[lubrication]
tool_side = { mu = 0.1 }
[[step]]
pressure = "60 MPa"
)" + more + "[blank]\n" +
                        blank,
                    "demo.toml");
}

std::string trim_refusal(const std::string& line) {
  const Case job = block_case("rectangle = [\"50 mm\", \"8 mm\"]\n", "[[trim]]\n" + line + "\n");
  try {
    refuse_unmet_trims(job, make_tools(job, true));
  } catch (const CaseError& error) {
    return error.what();
  }
  return "none";
}

TEST(RefuseUnmetTrims, OfALineAboveThePart) {
  EXPECT_EQ(trim_refusal(R"(along = "x"
polygon = [["-9 mm", "-1 mm"], ["9 mm", "-1 mm"], ["9 mm", "1 mm"], ["-9 mm", "1 mm"]])"),
            "none");
  EXPECT_EQ(
      trim_refusal(R"(along = "x"
polygon = [["-9 mm", "117 mm"], ["9 mm", "127 mm"], ["9 mm", "160 mm"], ["-9 mm", "160 mm"]])"),
      "demo.toml:13  trim[1].polygon\n"
      "    found    a trim line from (-9, 117) to (9, 160)\n"
      "    allowed  a line across the formed part, in (y, z) from (-4, 0) to (4, 16)\n"
      "    mend     draw it in the tool's frame: z is the press axis, as the tool half stands on the tray");
  EXPECT_THAT(trim_refusal(R"(along = "y"
polygon = [["26 mm", "1 mm"], ["30 mm", "1 mm"], ["30 mm", "9 mm"]])"),
              HasSubstr("in (x, z) from (-25, 0) to (25, 16)"));
}

std::string doubts_of(const Case& job) {
  return print_problems(setup_doubts(job, make_tools(job, true)));
}

std::string pinned(const std::string& x, double pin = 3.9) {
  return fmt::format(
      "[[blank.hole]]\nat = [\"{0} mm\", \"0 mm\"]\ndiameter = \"4 mm\"\n"
      "[[blank.pin]]\nat = [\"{0} mm\", \"0 mm\"]\ndiameter = \"{1} mm\"\n",
      x, pin);
}

TEST(SetupDoubts, OfAPinInTheAir) {
  const std::string sheet = "rectangle = [\"60 mm\", \"8 mm\"]\n";
  EXPECT_EQ(doubts_of(block_case(sheet + pinned("-9") + pinned("9"))), "");
  EXPECT_EQ(
      doubts_of(block_case(sheet + pinned("9") + pinned("-25"))),
      "demo.toml:17  blank.pin[2].at\n"
      "    found    a pin at (-25, 0) mm with nothing of the tool half under it\n"
      "    allowed  a pin that stands on the tool half\n"
      "    mend     the tool half cannot hold it, and it keeps sheet from drawing in that folds down there: "
      "move pin and hole over the tool half");
}

// The block's top is flat from x = -12 to 12.
TEST(SetupDoubts, OfABlankThatTips) {
  EXPECT_EQ(doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"11 mm\", \"0 mm\"]\n")), "");
  const std::string tips =
      doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"18 mm\", \"0 mm\"]\n"));
  EXPECT_THAT(tips, HasSubstr("demo.toml:13  blank.place\n"));
  EXPECT_THAT(tips, HasSubstr("centroid, at (18, 0) mm, lies 6 mm outside of all that it rests on"));
  // A corner cut away on one side only, and a hole, move the centroid.
  EXPECT_EQ(doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"12 mm\", \"0 mm\"]\n")), "");
  EXPECT_THAT(doubts_of(block_case("rectangle = [\"50 mm\", \"8 mm\"]\nplace = [\"12 mm\", \"0 mm\"]\n"
                                   "hole = [{ at = [\"-20 mm\", \"0 mm\"], diameter = \"6 mm\" }]\n")),
              HasSubstr("tips"));
}

}  // namespace
}  // namespace halftool::io
