#include "io/cli/setup_checks.hpp"

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

}  // namespace
}  // namespace halftool::io
