// A tool half from STL through the built program: what is said of it, and what the pressed part owes to its
// facets.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "io/cli/exit_code.hpp"
#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"
#include "tests/support/stl_files.hpp"

namespace halftool::test {
namespace {

using io::as_int;
using io::ExitCode;
using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

/// The block of the bracket as facets; one of them is given twice.
mesh::SurfaceMesh block_facets(int per_quarter) {
  halftool::testing::FacetedBlock block;
  block.width = 10;
  block.facets = per_quarter;
  mesh::SurfaceMesh facets = halftool::testing::faceted_block(block);
  facets.triangles.conservativeResize(facets.n_triangles() + 1, 3);
  facets.triangles.bottomRows<1>() = facets.triangles.row(4).eval();
  return facets;
}

/// The bracket's case with its block from block.stl.
std::string stl_bracket(const std::string& unit) {
  std::string text =
      bracket("100 MPa", std::string(no_forming_limit) + "[outputs]\npictures = false\nseries = false\n");
  const auto first = text.find("block = {");
  return text.replace(first, text.find('\n', first) - first,
                      "stl = \"block.stl\"\nlength_unit = \"" + unit + "\"");
}

class StlPress : public Program {
 protected:
  /// @param warned  what the console has to say; empty: nothing
  [[nodiscard]] json press(const std::string& name, const std::string& warned) const {
    const Answer answer = run({"press", name + ".toml", "--out", name, "--quiet", "--threads", "1"});
    EXPECT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;
    EXPECT_EQ(answer.err.empty(), warned.empty()) << answer.err;
    EXPECT_THAT(answer.err, HasSubstr(warned));
    return json::parse(text_of(work() / name / "summary.json"));
  }
};

TEST_F(StlPress, CheckShowsWhatWasRepairedAndDoubtsTheUnit) {
  halftool::testing::write_binary_stl(block_facets(6), (work() / "block.stl").string());
  write("bracket.toml", stl_bracket("mm"));
  const Answer answer = run({"check", "bracket.toml"});
  EXPECT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;
  EXPECT_THAT(answer.err, HasSubstr("warning: tool half: repaired: 1 facet given twice"));
  EXPECT_THAT(answer.out, AllOf(HasSubstr("repaired: 1 facet given twice dropped, the first at ("),
                                HasSubstr("has 6 facets over 90 degrees; below 9 the faceting will print")));
  EXPECT_THAT(answer.err, Not(HasSubstr("length_unit")));
  write("inches.toml", stl_bracket("in"));
  const Answer doubted = run({"check", "inches.toml"});
  EXPECT_THAT(doubted.err,
              AllOf(HasSubstr("tool.length_unit"), HasSubstr("as \"mm\" the tool is 60 x 10 x 35 mm")));
}

TEST_F(StlPress, SpringsBackAsOverTheParametricBlock) {
  halftool::testing::write_binary_stl(block_facets(12), (work() / "block.stl").string());
  write("stl.toml", stl_bracket("mm"));
  write("block.toml",
        bracket("100 MPa", std::string(no_forming_limit) + "[outputs]\npictures = false\nseries = false\n"));
  const json from_stl = press("stl", "warning: tool half: repaired: 1 facet given twice"),
             from_block = press("block", "");
  const double springback = from_block["flanges"][0]["springback_deg"];
  RecordProperty("block_deg", std::to_string(springback));
  RecordProperty("stl_deg", std::to_string(from_stl["flanges"][0]["springback_deg"].get<double>()));
  // Measured with 6, 9, 12, 15 and 30 facets: 1.346, 1.348, 1.338, 1.344 and 1.336 degrees for 1.360, which
  // is what another mesh of the blank does; with detail "trial" 1.306 and 1.299 (9 and 15 facets) for 1.324.
  EXPECT_NEAR(from_stl["flanges"][0]["springback_deg"], springback, 0.03 * std::abs(springback));
  EXPECT_NEAR(from_stl["flanges"][0]["formed_deg"], from_block["flanges"][0]["formed_deg"], 0.02);
  // The blank's mesh is another one, if hardly finer or coarser: the same radii were found.
  EXPECT_NEAR(from_stl["mesh"]["triangles"].get<double>(), from_block["mesh"]["triangles"].get<double>(), 20);
  EXPECT_THAT(from_stl["warnings"].dump(), HasSubstr("tool half: repaired: 1 facet given twice"));
}

}  // namespace
}  // namespace halftool::test
