// The rules themselves, on files made up to keep and to break them.
#include "tests/architecture/layer_rules.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace halftool::architecture {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// A file that includes the named targets; "<...>" is an angled include.
SourceFile file(const std::string& path, const std::vector<std::string>& targets = {}, int n_lines = 10) {
  SourceFile source;
  source.path = path;
  source.n_lines = n_lines;
  for (const std::string& target : targets) {
    const bool angled = target.front() == '<';
    source.includes.push_back({1, angled ? target.substr(1, target.size() - 2) : target, angled});
  }
  return source;
}

TEST(ParseSource, FindsIncludesHoweverTheyAreSpaced) {
  const SourceFile source = parse_source("mesh/a.cpp",
                                         "#include \"mesh/a.hpp\"\n"
                                         "  #  include<vector>\n"
                                         "// #include \"io/no.hpp\"\n"
                                         "int include;\n");
  EXPECT_EQ(source.n_lines, 4);
  ASSERT_EQ(source.includes.size(), 2U);
  EXPECT_EQ(source.includes[0].target, "mesh/a.hpp");
  EXPECT_FALSE(source.includes[0].angled);
  EXPECT_EQ(source.includes[1].target, "vector");
  EXPECT_TRUE(source.includes[1].angled);
  EXPECT_EQ(source.includes[1].line, 2);
}

TEST(CheckLayers, AcceptsTheWayDown) {
  EXPECT_THAT(
      check_layers({file("mesh/a.hpp"), file("solver/b.hpp", {"mesh/a.hpp", "<vector>"}),
                    file("io/c.cpp", {"solver/b.hpp", "mesh/a.hpp"}), file("tests/d.cpp", {"io/c.cpp"})}),
      IsEmpty());
}

TEST(CheckLayers, RefusesTheWayUp) {
  const std::vector<SourceFile> files = {file("mesh/a.hpp", {"solver/b.hpp"}),
                                         file("solver/b.hpp", {"io/c.hpp"}),
                                         file("io/c.hpp", {"tests/d.hpp"}), file("tests/d.hpp")};
  EXPECT_THAT(check_layers(files),
              ElementsAre(HasSubstr("mesh/a.hpp:1"), HasSubstr("solver/b.hpp:1"), HasSubstr("io/c.hpp:1")));
}

TEST(CheckLayers, RefusesWaysOfWritingThatHideTheTarget) {
  EXPECT_THAT(check_layers({file("mesh/a.hpp"), file("mesh/b.cpp", {"a.hpp"})}),
              ElementsAre(HasSubstr("a.hpp")));
  EXPECT_THAT(check_layers({file("io/a.hpp"), file("mesh/b.cpp", {"../io/a.hpp"})}),
              ElementsAre(HasSubstr("../io/a.hpp")));
  EXPECT_THAT(check_layers({file("io/a.hpp"), file("mesh/b.cpp", {"<io/a.hpp>"})}),
              ElementsAre(HasSubstr("io/a.hpp")));
}

TEST(CheckSolverParts, AcceptsTheOrder) {
  EXPECT_THAT(check_solver_parts({file("solver/state.hpp", {"solver/material/section.hpp"}),
                                  file("solver/assembly/a.hpp", {"solver/state.hpp", "solver/contact/c.hpp"}),
                                  file("solver/stepping/s.hpp", {"solver/assembly/a.hpp"}),
                                  file("solver/springback/r.hpp", {"solver/stepping/s.hpp", "mesh/m.hpp"}),
                                  file("solver/assessment/t.hpp", {"solver/result.hpp"})}),
              IsEmpty());
}

class WrongPart : public testing::TestWithParam<std::pair<const char*, const char*>> {};

TEST_P(WrongPart, IsRefused) {
  const auto& [from, to] = GetParam();
  EXPECT_THAT(check_solver_parts({file(from, {to})}), ElementsAre(HasSubstr(from)));
}

INSTANTIATE_TEST_SUITE_P(All, WrongPart,
                         testing::Values(std::pair("solver/kinematics/a.hpp", "solver/material/b.hpp"),
                                         std::pair("solver/material/a.cpp", "solver/contact/b.hpp"),
                                         std::pair("solver/contact/a.hpp", "solver/kinematics/b.hpp"),
                                         std::pair("solver/contact/a.hpp", "solver/state.hpp"),
                                         std::pair("solver/state.hpp", "solver/assembly/b.hpp"),
                                         std::pair("solver/assembly/a.hpp", "solver/stepping/b.hpp"),
                                         std::pair("solver/stepping/a.hpp", "solver/springback/b.hpp"),
                                         std::pair("solver/stepping/a.hpp", "solver/assessment/b.hpp"),
                                         std::pair("solver/assessment/a.hpp", "solver/stepping/b.hpp")));

TEST(CheckSolverParts, RefusesAnUnknownPart) {
  EXPECT_THAT(check_solver_parts({file("solver/utils/a.hpp")}), ElementsAre(HasSubstr("solver/utils")));
}

TEST(CheckCycles, AcceptsADiamond) {
  EXPECT_THAT(
      check_cycles({file("io/a/a.hpp", {"io/b/b.hpp", "io/c/c.hpp"}), file("io/b/b.hpp", {"io/d/d.hpp"}),
                    file("io/c/c.hpp", {"io/d/d.hpp"}), file("io/d/d.hpp")}),
      IsEmpty());
}

TEST(CheckCycles, FindsACircleOfFiles) {
  const std::vector<SourceFile> files = {file("mesh/a.hpp", {"mesh/b.hpp"}),
                                         file("mesh/b.hpp", {"mesh/c.hpp"}),
                                         file("mesh/c.hpp", {"mesh/b.hpp"})};
  EXPECT_THAT(check_cycles(files), ElementsAre("file cycle: mesh/b.hpp -> mesh/c.hpp -> mesh/b.hpp"));
}

TEST(CheckCycles, FindsACircleOfFoldersWithoutOneOfFiles) {
  const std::vector<SourceFile> files = {file("io/a/one.hpp", {"io/b/one.hpp"}), file("io/b/one.hpp"),
                                         file("io/b/two.hpp", {"io/a/two.hpp"}), file("io/a/two.hpp")};
  EXPECT_THAT(check_cycles(files), ElementsAre("folder cycle: io/a -> io/b -> io/a"));
}

TEST(CheckLibraries, AcceptsEachInTheSourcesOfItsLayer) {
  EXPECT_THAT(check_libraries({file("mesh/a.cpp", {"<gmsh.h>", "<embree3/rtcore.h>"}),
                               file("solver/b.cpp", {"<cholmod.h>", "<dmumps_c.h>"}),
                               file("io/c.cpp", {"<vtkPoints.h>", "<toml++/toml.h>", "<CLI/CLI.hpp>"}),
                               file("io/c.hpp", {"<Eigen/Core>", "<vector>"}),
                               file("tests/d.cpp", {"<gtest/gtest.h>", "<vtkPoints.h>"})}),
              IsEmpty());
}

TEST(CheckLibraries, RefusesThemElsewhere) {
  for (const auto& [path, target] :
       {std::pair("solver/a.cpp", "<gmsh.h>"), std::pair("mesh/a.hpp", "<gmsh.h>"),
        std::pair("io/a.hpp", "<vtkPoints.h>"), std::pair("mesh/a.cpp", "<vtkPoints.h>"),
        std::pair("io/a.hpp", "<toml++/toml.h>"), std::pair("solver/a.cpp", "<CLI/CLI.hpp>"),
        std::pair("io/a.cpp", "<unheard/of.h>")})
    EXPECT_THAT(check_libraries({file(path, {target})}), ElementsAre(HasSubstr(path)));
}

TEST(CheckLengths, RefusesLongFiles) {
  EXPECT_THAT(check_lengths({file("io/a.cpp", {}, 500), file("io/a.hpp", {}, 200)}), IsEmpty());
  EXPECT_THAT(check_lengths({file("io/a.cpp", {}, 501), file("io/a.hpp", {}, 201)}),
              ElementsAre(HasSubstr("501"), HasSubstr("201")));
}

TEST(CheckTopLevel, RefusesWhatWasNotAgreed) {
  EXPECT_THAT(check_top_level({".git", "CMakeLists.txt", "README.md", "mesh", "results"}), IsEmpty());
  EXPECT_THAT(check_top_level({"utils", "mesh"}), ElementsAre(HasSubstr("utils")));
}

}  // namespace
}  // namespace halftool::architecture
