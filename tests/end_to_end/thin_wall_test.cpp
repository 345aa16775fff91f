// A rib three sheets thick, pressed from both sides: what comes down on one side must stay there, although
// the other side's face is as near to it as the fluid can push it in a few increments.
#include <gtest/gtest.h>
#include <vtkDataArray.h>
#include <vtkPointData.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "io/cli/exit_code.hpp"
#include "tests/end_to_end/program.hpp"
#include "tests/end_to_end/vtk_files.hpp"

namespace halftool::test {
namespace {

class ThinWall : public Program {};

TEST_F(ThinWall, NoNodePassesThroughARib) {
  write("rib.toml", R"(
[sheet]
thickness = "0.5 mm"
[sheet.material]
stock = "AA6061-O"
[blank]
rectangle = ["20 mm", "4 mm"]
[tool]
kind = "block"
block = { length = "1.6 mm", width = "8 mm", height = "6 mm", edge_radius = "0.75 mm" }
[lubrication.tool_side]
mu = 0.10
[symmetry]
planes = ["y"]
[limits]
forming_limit = "none"
[effort]
detail = "quick"
threads = 1
[outputs]
pictures = false
series = false
[[step]]
pressure = "30 MPa"
)");
  const Answer answer = run({"press", "rib.toml", "--out", "rib", "--quiet"});
  ASSERT_EQ(answer.code, io::as_int(io::ExitCode::done)) << answer.err;
  const auto formed = read_grid(work() / "rib" / "formed.vtu");
  vtkDataArray* moved = formed->GetPointData()->GetArray("displacement [mm]");
  ASSERT_NE(moved, nullptr);
  constexpr double half_wall = 0.8, half_sheet = 0.25, round = 0.75, height = 6;
  int on_walls = 0;
  for (vtkIdType i = 0; i < formed->GetNumberOfPoints(); ++i) {
    const double* at = formed->GetPoint(i);
    const double flat = at[0] - moved->GetTuple3(i)[0];
    if (std::abs(flat) < 2) continue;  // lies on the rib's round
    EXPECT_GT(at[0] * flat, 0) << "node at " << at[0] << ", from " << flat;
    if (at[2] > height - round) continue;
    // half the thinned sheet; contact acts in the middle of triangles, between which nodes of a coarse mesh
    // dip a little
    EXPECT_GT(std::abs(at[0]), half_wall + 0.8 * half_sheet) << "height " << at[2];
    on_walls += std::abs(at[0]) < half_wall + 1.2 * half_sheet ? 1 : 0;
  }
  EXPECT_GT(on_walls, 100);
  const auto summary = nlohmann::json::parse(text_of(work() / "rib" / "summary.json"));
  EXPECT_LE(summary["contact"]["largest_penetration_mm"].get<double>(), 0.005 * 0.5);
}

}  // namespace
}  // namespace halftool::test
