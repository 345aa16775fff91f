// The edge of a flanged hole against its geometry: the row of sheet at the edge goes from the radius of the
// blank's hole to that of the mid-surface on the tool's wall, and thins by half of that, as a strip under
// plain tension does.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "io/cli/exit_code.hpp"
#include "tests/end_to_end/program.hpp"

namespace halftool::test {
namespace {

using nlohmann::json;

class FlangedHole : public Program {};

TEST_F(FlangedHole, EdgeIsStretchedByTheRatioOfRadii) {
  const std::string folder = SHIPPED_CASES "/flanged_hole/";
  std::string text = text_of(folder + "case.toml");
  text.replace(text.find("block.step"), 10, folder + "block.step");
  write("hole.toml", text +
                         "[effort]\ndetail = \"quick\"\nthreads = 1\n"
                         "[limits]\nforming_limit = \"none\"\n"
                         "[outputs]\npictures = false\nseries = false\n");
  const Answer answer = run({"press", "hole.toml", "--out", "hole", "--quiet"});
  ASSERT_EQ(answer.code, io::as_int(io::ExitCode::done)) << answer.err;
  const json summary = json::parse(text_of(work() / "hole" / "summary.json"));
  const double stretch = std::log((30 - 1.27 * std::exp(-0.1) / 2) / 24);
  // The worst triangle of a coarse mesh: above the mean of the edge.
  EXPECT_NEAR(summary["strain"]["major_mid"].get<double>(), stretch, 0.06 * stretch);
  EXPECT_NEAR(summary["thinning"]["worst"].get<double>(), 1 - std::exp(-0.5 * stretch), 0.006);
}

}  // namespace
}  // namespace halftool::test
