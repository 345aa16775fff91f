#include <cmath>
#include <limits>
#include <numbers>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

Finding sharp_finding(const mesh::ConcaveCorner& sharp, const ScreenLoad& load) {
  Finding finding;
  finding.what = "inside edges without a radius";
  finding.found = {"pressure needed", std::numeric_limits<double>::infinity(), "MPa"};
  finding.limit = {"peak pressure", load.pressure, "MPa"};
  finding.formula = "p = (2/sqrt 3) sigma t/r";
  finding.inputs = {{"r", 0, "mm"},
                    {"turn", sharp.turn * 180 / std::numbers::pi, "deg"},
                    {"length of all", sharp.length, "mm"}};
  finding.at = sharp.at;
  finding.caution = "no pressure fills them; if the sheet gets there it stands off";
  return finding;
}

}  // namespace

Finding fill_finding(const mesh::ConcaveRadius& radius, const ScreenLoad& load) {
  const double stress = worked_stress(load);
  const double needed = fill_pressure(stress, load.thickness, radius.radius, radius.across);
  const bool both_ways = std::isfinite(radius.across);  // the second may be large
  Finding finding;
  finding.what = radius.is_double() ? "inside corner, hollow both ways" : "inside radius";
  finding.tripped = needed > load.pressure;
  finding.found = {"pressure needed", needed, "MPa"};
  finding.limit = {"peak pressure", load.pressure, "MPa"};
  finding.formula =
      both_ways ? "p = (2/sqrt 3) sigma t sqrt(1/r1^2 + 1/(r1 r2) + 1/r2^2)" : "p = (2/sqrt 3) sigma t/r";
  finding.inputs = {{"sigma", stress, "MPa"}, {"t", load.thickness, "mm"}};
  finding.inputs.push_back({both_ways ? "r1" : "r", radius.radius, "mm"});
  if (both_ways) finding.inputs.push_back({"r2", radius.across, "mm"});
  finding.at = radius.at;
  finding.caution =
      "the sheet stands off there and keeps a larger radius; sigma is the flow stress at a strain of 0.1, "
      "bending is left out";
  return finding;
}

Screen fill_screen(const mesh::ConcaveEdges& edges, const ScreenLoad& load) {
  Screen screen;
  screen.name = "inside radii";
  screen.rule = "hollow edges and corners in the sheet's reach that need more than the peak pressure to fill";
  if (edges.sharp.length > 0) add_finding(screen, sharp_finding(edges.sharp, load));
  for (const mesh::ConcaveRadius& radius : edges.radii)
    if (Finding finding = fill_finding(radius, load); finding.tripped)
      add_finding(screen, std::move(finding));
  return screen;
}

}  // namespace halftool::solver
