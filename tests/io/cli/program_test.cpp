// The built program from outside: exit codes, messages, and that wrong input leaves nothing behind.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "io/case/case.hpp"
#include "io/cli/exit_code.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

struct Answer {
  int code;
  std::string out;
  std::string err;
};

std::string text_of(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file).rdbuf();
  return text.str();
}

constexpr const char* small_case = R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift = { strength = "530 MPa", pre_strain = 0.01, exponent = 0.26 } }
[blank]
rectangle = ["50 mm", "8 mm"]
[tool]
kind = "block"
block = { length = "30 mm", width = "8 mm", height = "15 mm", edge_radius = "3 mm" }
[lubrication]
tool_side = { mu = 0.1 }
[[step]]
pressure = "60 MPa"
[effort]
detail = "quick"
)";

class Program : public testing::Test {
 protected:
  void SetUp() override { fs::create_directory(work()); }

  /// Runs the program in the folder work().
  Answer run(const std::string& arguments) const {
    const auto out = place_ / "out";
    const auto err = place_ / "err";
    const auto command = "cd '" + work().string() + "' && '" + HALFTOOL_PROGRAM + "' " + arguments + " >'" +
                         out.string() + "' 2>'" + err.string() + "' </dev/null";
    const int status = std::system(command.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, text_of(out), text_of(err)};
  }
  [[nodiscard]] fs::path work() const { return place_ / "work"; }
  void write(const std::string& name, const std::string& text) const { std::ofstream(work() / name) << text; }

 private:
  const halftool::test::ScratchFolder scratch_;
  const fs::path& place_ = scratch_.path();
};

TEST_F(Program, ListsAndShowsTheStock) {
  const auto list = run("stock");
  EXPECT_EQ(list.code, 0);
  EXPECT_THAT(list.out, HasSubstr("AA6016-T4"));
  EXPECT_THAT(list.out, HasSubstr("measured publication"));
  EXPECT_THAT(list.out, HasSubstr("steel-IF                94  "));  // 65 at the first point of its law
  EXPECT_THAT(list.out, testing::ContainsRegex("steel-IF .* Hill 1948 +0\\.318 est\\."));
  EXPECT_THAT(list.out, testing::ContainsRegex("AA6061-O .* von Mises +0\\.157 comp\\."));
  const auto shown = run("stock AA6016-T4 --out pictures");
  EXPECT_EQ(shown.code, 0) << shown.err;
  EXPECT_THAT(shown.out, HasSubstr("Habraken and others 2022"));
  EXPECT_THAT(shown.out, HasSubstr("stock = \"AA6016-T4\""));
  EXPECT_THAT(text_of(work() / "pictures" / "AA6016-T4.svg"), HasSubstr("<svg"));
  const auto cyclic = run("stock AA6022-cyclic --out pictures");  // draws its reversal too
  EXPECT_EQ(cyclic.code, 0) << cyclic.err;
  EXPECT_THAT(cyclic.out, HasSubstr("least bends: none found"));
  EXPECT_THAT(cyclic.out, HasSubstr("  reread: "));
  EXPECT_THAT(cyclic.out,
              HasSubstr("  yield at 0.2 %: 191 MPa by the law, 198.5 MPa published (-3.7 %): tension,"));
  EXPECT_THAT(text_of(work() / "pictures" / "AA6022-cyclic.svg"), HasSubstr("<svg"));
  const auto wrong = run("stock AA6016-T");
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, HasSubstr("did you mean AA6016-T4?"));
  EXPECT_EQ(run("stock AA6016-T4 --thickness 1").code, 2);
  EXPECT_THAT(run("stock AA6016-T4 --picture x.jpg").err, HasSubstr("a name that ends in .svg or .png"));
  EXPECT_THAT(run("stock --picture x.png").err, HasSubstr("name the sheet"));
  EXPECT_FALSE(fs::exists(work() / "x.jpg"));

  std::string text = small_case;
  const auto from = text.find("material = "), to = text.find("[blank]");
  write("case.toml",
        text.replace(from, to - from, "material = { stock = \"AA6016-T4\", r_values = [0.5, 0.3, 0.6] }\n"));
  const auto checked = run("check case.toml");
  EXPECT_EQ(checked.code, 0) << checked.err;
  EXPECT_THAT(checked.out, HasSubstr("# sheet AA6016-T4 of the stock, worst grade: user"));
  EXPECT_THAT(checked.out, HasSubstr("#   r_values = [0.5, 0.3, 0.6]: user, the case file"));
  EXPECT_THAT(checked.out, HasSubstr("#   voce.rate = 12.4: measured publication, Habraken"));
  EXPECT_THAT(checked.out, HasSubstr("# forming limit: the lower of two, not measured: computed"));
  EXPECT_EQ(run("stock AA6016-T4 --picture /nowhere/at/all.svg").code, 2);
}

/// How far down the page the longest line of a style in the right half of a picture reaches [px].
double lowest_of(const std::string& svg, const std::string& style) {
  double lowest = -1;
  std::size_t longest = 0;
  for (auto at = svg.find("<path"); at != std::string::npos; at = svg.find("<path", at + 1)) {
    const auto path = svg.substr(at, svg.find("/>", at) - at);
    const auto line = path.find(" d=\"M ");
    if (path.find(style) == std::string::npos || line == std::string::npos || path.size() < longest) continue;
    std::istringstream places(path.substr(line + 6));
    double x = 0, y = 0, low = 0;
    for (std::string letter; places >> x >> y; places >> letter) low = std::max(low, y);
    if (x < 800) continue;  // hardening, on the left
    longest = path.size();
    lowest = low;
  }
  return lowest;
}

// Of the two limits the one that judges is the thick line: the lower one of aluminium, and of a low-carbon
// steel the estimate, which is the upper one.
TEST_F(Program, DrawsTheLimitThatJudgesThick) {
  for (const auto& [sheet, is_lower] : {std::pair("AA6061-O", true), std::pair("steel-N93", false)}) {
    ASSERT_EQ(run(std::string("stock ") + sheet + " --picture sheet.svg").code, 0);
    const auto svg = text_of(work() / "sheet.svg");
    const double thick = lowest_of(svg, "stroke-width:4.5;"),
                 dashed = lowest_of(svg, "stroke-dasharray:12,6");
    ASSERT_GT(thick, 0);
    ASSERT_GT(dashed, 0);
    EXPECT_EQ(thick > dashed, is_lower) << sheet;
  }
}

// The table in full leaves the least bend to the case: it stands beside it, as comments.
TEST_F(Program, ShowsTheLeastBendsToBeTakenOver) {
  const auto shown = run("stock AA6061-O --thickness '4 mm'").out;
  EXPECT_THAT(shown, HasSubstr("t 4 mm, which counts as 3 mm"));
  const auto from = shown.find("or in full, to be changed");
  auto pasted = shown.substr(shown.find('#', from));
  EXPECT_NO_THROW(parse_sheet(pasted, "pasted.toml"));
  EXPECT_THAT(pasted, HasSubstr("\n# [limits]\n# bend_ratio = 0   # up to 0.4 mm\n"));
  EXPECT_THAT(pasted, HasSubstr("\n# bend_ratio = 1   # above 1.6, up to 3.2 mm\n"));
}

/// A test of an invented sheet of Voce's law, 100 + 150 (1 - exp(-10 e)) MPa, true values.
/// @param modulus  [MPa]
std::string voce_test(double modulus) {
  std::string table = "true strain [%]; true stress [MPa]\n";
  const auto add = [&](double plastic, double stress) {
    table += std::to_string(100 * (plastic + stress / modulus)) + ';' + std::to_string(stress) + '\n';
  };
  for (int i = 0; i < 12; ++i) add(0, i * 100.0 / 12);
  for (int i = 0; i < 160; ++i) add(0.002 * i, 100 + 150 * (1 - std::exp(-0.02 * i)));
  return table;
}

TEST_F(Program, FitsATensileTest) {
  write("coil.csv", voce_test(70000));
  const auto fit = run("stock fit coil.csv --name 'coil 7' --out pictures");
  EXPECT_EQ(fit.code, 0) << fit.err;
  EXPECT_THAT(fit.out, HasSubstr("slope of elastic part  70 GPa"));
  EXPECT_THAT(fit.out, HasSubstr("the specimen necks there"));
  for (const char* law : {"# Swift\n", "# Voce\n", "# Hollomon\n", "# Ludwik\n", "# Swift-Voce\n"})
    EXPECT_THAT(fit.out, HasSubstr(law));
  EXPECT_THAT(text_of(work() / "pictures" / "coil.svg"), HasSubstr("<svg"));

  // what is printed can be pasted
  const auto from = fit.out.find("# Voce\n");
  const auto pasted = fit.out.substr(from, fit.out.find("# Hollomon\n") - from);
  const auto sheet = parse_sheet(pasted, "pasted.toml").material;
  const auto& voce = std::get<solver::VoceHardening>(sheet.hardening);
  EXPECT_NEAR(voce.saturation, 250, 0.01);
  EXPECT_NEAR(voce.rate, 10, 0.001);
  EXPECT_THAT(pasted, testing::ContainsRegex("rate = [0-9.]{1,7}\n"));  // six digits
  EXPECT_THAT(fit.out, HasSubstr("the law's stress less the test's"));
  EXPECT_EQ(sheet.name, "coil 7");

  // a law that necks elsewhere than the test, and a modulus that no sheet metal has, are told of
  EXPECT_THAT(fit.out, HasSubstr(": a forming limit from it is as far off)"));
  EXPECT_THAT(fit.out, testing::Not(HasSubstr("doubtful")));
  write("soft.csv", voce_test(50000));
  const auto doubtful = run("stock fit soft.csv");
  EXPECT_THAT(doubtful.out, HasSubstr("doubtful: no common sheet metal has it"));
  EXPECT_THAT(doubtful.out, HasSubstr("# youngs_modulus is doubtful: see above\n[sheet.material]"));

  write("few.csv", "true strain [%],true stress [MPa]\n0,1\n");
  EXPECT_EQ(run("stock fit few.csv").code, 2);
  EXPECT_THAT(run("stock fit coil.csv --modulus 70").err, HasSubstr("unit"));
  EXPECT_EQ(run("stock fit nowhere.csv").code, 2);
}

TEST_F(Program, HelpsAndNamesItsVersion) {
  EXPECT_EQ(run("--help").code, 0);
  EXPECT_THAT(run("--help").out, HasSubstr("2  input wrong, nothing run"));
  EXPECT_THAT(run("press --help").out, HasSubstr("--replace"));
  EXPECT_EQ(run("--version").code, 0);
}

TEST_F(Program, RefusesAWrongCommandLine) {
  for (const auto* arguments :
       {"", "squeeze", "press", "press case.toml --fast", "press case.toml --threads many", "check"})
    EXPECT_EQ(run(arguments).code, as_int(ExitCode::input_wrong)) << arguments;
}

TEST_F(Program, ListsTheKeys) {
  EXPECT_EQ(run("keys").code, 0);
  EXPECT_THAT(run("keys").out, HasSubstr("[sheet.material.swift]"));
  EXPECT_THAT(run("keys --markdown").out, HasSubstr("| `thickness` |"));
}

TEST_F(Program, ChecksACaseAndPrintsItComplete) {
  write("case.toml", small_case);
  const auto answer = run("check case.toml");
  EXPECT_EQ(answer.code, 0) << answer.err;
  EXPECT_EQ(answer.err, "");
  EXPECT_THAT(answer.out, HasSubstr("layers = 7  # default"));
  EXPECT_THAT(answer.out, HasSubstr("smallest angle"));
  const auto again = parse_case(answer.out, "complete.toml");
  EXPECT_EQ(again.settings.layers, 7);
  EXPECT_EQ(std::distance(fs::directory_iterator(work()), fs::directory_iterator()), 1);
}

TEST_F(Program, SaysWhenThereIsNoSuchCase) {
  const auto answer = run("press nothing.toml");
  EXPECT_EQ(answer.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(answer.err, HasSubstr("no such file"));
}

TEST_F(Program, RefusesAToolThatCannotBeBuilt) {
  std::string text = small_case;
  const auto block = text.find("block = {");
  text.replace(block, text.find('}', block) - block + 1, "step = \"broken.step\"");
  write("case.toml", text);
  write("broken.step", "this is no STEP file\n");
  for (const auto* command : {"check", "press"}) {
    const auto answer = run(std::string(command) + " case.toml");
    EXPECT_EQ(answer.code, as_int(ExitCode::input_wrong)) << answer.err;
    EXPECT_THAT(answer.err, HasSubstr("broken.step"));
  }
  EXPECT_EQ(std::distance(fs::directory_iterator(work()), fs::directory_iterator()), 2);
}

TEST_F(Program, LeavesAnExistingResultFolderAlone) {
  write("case.toml", small_case);
  fs::create_directories(work() / "results");
  write("results/summary.json", "old");
  const auto answer = run("press case.toml --out results");
  EXPECT_EQ(answer.code, as_int(ExitCode::input_wrong));
  EXPECT_THAT(answer.err, HasSubstr("--replace"));
  EXPECT_EQ(text_of(work() / "results" / "summary.json"), "old");
  EXPECT_EQ(std::distance(fs::directory_iterator(work() / "results"), fs::directory_iterator()), 1);
}

TEST_F(Program, EveryWrongCaseEndsWithTwoAndLeavesNothing) {
  int n = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(CASE_CORPUS) / "bad")) {
    const auto answer = run("press '" + entry.path().string() + "'");
    EXPECT_EQ(answer.code, as_int(ExitCode::input_wrong)) << entry.path();
    EXPECT_THAT(answer.err, HasSubstr("nothing was run")) << entry.path();
    EXPECT_EQ(answer.out, "") << entry.path();
    ++n;
  }
  EXPECT_GE(n, 90);
  EXPECT_TRUE(fs::is_empty(work()));
}

}  // namespace
}  // namespace halftool::io
