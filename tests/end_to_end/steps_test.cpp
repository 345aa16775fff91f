// Several steps of one case through the built program, lubrication by zone, locating pins.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <vtkDataArray.h>
#include <vtkPointData.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "io/cli/exit_code.hpp"
#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"
#include "tests/end_to_end/vtk_files.hpp"

namespace halftool::test {
namespace {

using io::as_int;
using io::ExitCode;
using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;

const std::string kPlain = std::string(no_forming_limit) + "[outputs]\npictures = false\nseries = false\n";

class Steps : public Program {
 protected:
  [[nodiscard]] json press(const std::string& name, const std::string& text) const {
    write(name + ".toml", text);
    const Answer answer = run({"press", name + ".toml", "--out", name, "--quiet"});
    EXPECT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;
    return json::parse(text_of(work() / name / "summary.json"));
  }
};

double springback(const json& summary) {
  return summary.at("flanges").at(0).at("springback_deg").get<double>();
}

// One step split in two: between them the flange opens and is closed again, almost elastically.
TEST_F(Steps, TwoStepsOnTheSameToolAreOneStep) {
  const json once = press("once", bracket("60 MPa", kPlain));
  const json twice = press("twice", bracket("30 MPa", "[[step]]\npressure = \"60 MPa\"\n" + kPlain));
  const double one = springback(once);
  EXPECT_NEAR(springback(twice), one, 0.05);  // [deg]; 0.01 measured
}

TEST_F(Steps, AZoneOverAllIsTheLubricationOfAll) {
  const std::string zone =
      "[[lubrication.zone]]\nname = \"film\"\nmu = 0.10\npolygon = [[\"-99 mm\", \"-99 mm\"], "
      "[\"99 mm\", \"-99 mm\"], [\"99 mm\", \"99 mm\"], [\"-99 mm\", \"99 mm\"]]\n";
  std::string slippery = bracket("20 MPa", zone + kPlain);
  const auto mu = slippery.find("mu = 0.10");
  slippery.replace(mu, 9, "mu = 0.03");
  EXPECT_EQ(springback(press("zone", slippery)), springback(press("all", bracket("20 MPa", kPlain))));
}

// The flange slides on the wall and the web hardly moves: the part opens by what its flange rubs on.
TEST_F(Steps, AZoneActsWhereItLies) {
  const auto opened = [&](const std::string& name, const std::string& mu, const std::string& mu_of_web) {
    std::string text = bracket(
        "60 MPa", mu_of_web.empty() ? kPlain
                                    : "[[lubrication.zone]]\nname = \"web\"\nmu = " + mu_of_web +
                                          "\npolygon = [[\"-20 mm\", \"-99 mm\"], [\"20 mm\", \"-99 mm\"], "
                                          "[\"20 mm\", \"99 mm\"], [\"-20 mm\", \"99 mm\"]]\n" +
                                          kPlain);
    text.replace(text.find("mu = 0.10"), 9, "mu = " + mu);
    return springback(press(name, text));
  };
  const double dry = opened("dry", "0.30", ""), film = opened("film", "0.02", "");
  ASSERT_GT(std::abs(film - dry), 0.03);  // [deg]; 0.057 measured
  EXPECT_NEAR(opened("dry_flange", "0.30", "0.02"), dry, 0.2 * std::abs(film - dry));
  EXPECT_NEAR(opened("film_on_flange", "0.02", "0.30"), film, 0.2 * std::abs(film - dry));
}

/// What of the sheet's rim beyond the bend, flat at x = 48 mm and more, stands lowest [mm].
double lowest_of_rim(vtkUnstructuredGrid& grid) {
  vtkDataArray* moved = grid.GetPointData()->GetArray("displacement [mm]");
  double lowest = 1e9;
  for (vtkIdType i = 0; i < grid.GetNumberOfPoints(); ++i) {
    const double* x = grid.GetPoint(i);
    if (x[0] - moved->GetTuple3(i)[0] > 48) lowest = std::min(lowest, x[2]);
  }
  return lowest;
}

// The heel beside the block keeps the flange flat while the dish is drawn; without it the flange folds, and
// the dish stays.
TEST_F(Steps, AnInsertHoldsUntilItIsTakenOut) {
  const std::string folder = SHIPPED_CASES "/dish_then_flange/";
  std::string text = text_of(folder + "case.toml");
  for (const auto& [old, now] :
       {std::pair("block.step", folder + "block.step"), std::pair("heel.step", folder + "heel.step"),
        std::pair("3000 psi", std::string("1 MPa")), std::pair("14500 psi", std::string("1 MPa"))})
    text.replace(text.find(old), std::string(old).size(), now);
  write("heel.toml", text + "[effort]\ndetail = \"quick\"\nthreads = 1\n" + no_forming_limit +
                         "[outputs]\npictures = false\n");
  const Answer answer = run({"press", "heel.toml", "--out", "heel", "--quiet"});
  ASSERT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;

  double with_heel = 0, thinned = 0;
  for (const auto& file : series_files(work() / "heel" / "pressing.pvd")) {
    const auto grid = read_grid(file);
    if (cell_range(*grid, "fluid pressure [MPa]").most < 0.999) continue;
    with_heel = lowest_of_rim(*grid);  // the first state at full pressure ends the first step
    thinned = cell_range(*grid, "thinning [-]").most;
    break;
  }
  const auto formed = read_grid(work() / "heel" / "formed.vtu");
  const auto tool = read_grid(work() / "heel" / "tool.vtu");
  const double top = tool->GetBounds()[5];
  EXPECT_GT(with_heel, top);  // on the heel, which is level with the block
  EXPECT_LT(lowest_of_rim(*formed), top - 8);
  EXPECT_GT(thinned, 0.002);  // the dish; 0.0028 measured
  EXPECT_GE(cell_range(*formed, "thinning [-]").most, thinned);
}

/// Nearest that a node of the pressed sheet stands to the axis of a pin at (18, 0) [mm].
double nearest_to_pin(const std::filesystem::path& file) {
  const auto grid = read_grid(file);
  double nearest = 1e9;
  for (vtkIdType i = 0; i < grid->GetNumberOfPoints(); ++i) {
    const double* x = grid->GetPoint(i);
    nearest = std::min(nearest, std::hypot(x[0] - 18, x[1]));
  }
  return nearest;
}

// A strip that lies askew over the block is drawn to its longer side, unless a pin stands in its way.
TEST_F(Steps, APinHoldsTheRimOfItsHole) {
  std::string text = bracket("100 MPa", kPlain);
  const auto put = [&](const std::string& old, const std::string& now) {
    text.replace(text.find(old), old.size(), now);
  };
  const std::string hole = "[[blank.hole]]\nat = [\"12 mm\", \"0 mm\"]\ndiameter = \"6.01 mm\"\n";
  const std::string pin = "[[blank.pin]]\nat = [\"12 mm\", \"0 mm\"]\ndiameter = \"6 mm\"\n";
  put("rectangle = [\"92 mm\", \"10 mm\"]\n",
      "rectangle = [\"92 mm\", \"20 mm\"]\nplace = [\"6 mm\", \"0 mm\"]\n" + hole);
  put("width = \"10 mm\"", "width = \"30 mm\"");
  put("planes = [\"x\", \"y\"]", "planes = [\"y\"]");
  put("mu = 0.10", "mu = 0.02");
  EXPECT_FALSE(press("loose", text).empty());
  put(hole, hole + pin);
  EXPECT_FALSE(press("pinned", text).empty());
  EXPECT_LT(nearest_to_pin(work() / "loose" / "formed.vtu"), 2.8);
  EXPECT_GT(nearest_to_pin(work() / "pinned" / "formed.vtu"), 3 - 1e-3);
}

TEST_F(Steps, CheckTellsTheToolOfEachStep) {
  const Answer answer = run({"check", SHIPPED_CASES "/dish_then_flange/case.toml"});
  EXPECT_EQ(answer.code, as_int(ExitCode::done)) << answer.err;
  EXPECT_THAT(answer.out, AllOf(HasSubstr("# from step \"dish\" on"),
                                HasSubstr("shape from block.step with shape from heel.step"),
                                HasSubstr("# from step \"flange\" on")));
}

}  // namespace
}  // namespace halftool::test
