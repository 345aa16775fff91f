#include "solver/assessment/tool_lines.hpp"

#include <algorithm>
#include <cmath>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

constexpr std::size_t most_walls = 3;

/// What the screen of the same thing found, as an estimate.
Estimate as_estimate(Finding finding, Evidence evidence, std::string source = "") {
  Estimate line;
  line.what = std::move(finding.what);
  line.value = std::move(finding.found);
  line.against = std::move(finding.limit);
  line.passed = finding.tripped;
  line.formula = std::move(finding.formula);
  line.inputs = std::move(finding.inputs);
  line.evidence = evidence;
  line.source = std::move(source);
  line.at = finding.at;
  line.note = std::move(finding.caution);
  return line;
}

}  // namespace

std::string evidence_word(Evidence evidence) {
  switch (evidence) {
    case Evidence::published:
      return "published";
    case Evidence::own_arithmetic:
      return "own arithmetic";
    case Evidence::common_practice:
      return "common practice, no source";
    case Evidence::from_memory:
      break;
  }
  return "from memory";
}

EstimateGroup fill_lines(const mesh::ConcaveEdges& edges, const ScreenLoad& load) {
  EstimateGroup group{"inside radii", {}, {}};
  for (const mesh::ConcaveRadius& radius : edges.radii)
    group.estimates.push_back(as_estimate(fill_finding(radius, load), Evidence::own_arithmetic));
  if (edges.radii.empty()) group.not_found.push_back("no inside radius lies in the sheet's reach");
  if (edges.sharp.length > 0)
    group.not_found.push_back("inside edges without a radius, which no pressure fills, lie in its reach");
  return group;
}

EstimateGroup opening_lines(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                            const ScreenLoad& load) {
  EstimateGroup group{"holes and slots", {}, {}};
  for (const mesh::Opening& opening : openings)
    if (opening_counts(opening, reach, load))
      group.estimates.push_back(
          as_estimate(opening_finding(opening, load),
                      opening.is_hole() ? Evidence::from_memory : Evidence::own_arithmetic,
                      opening.is_hole() ? "clamped plate, Hopkins and Prager 1953" : ""));
  if (group.estimates.empty())
    group.not_found.push_back(
        "no hole or slot under the sheet is deeper than 1 and narrower than 20 thicknesses");
  return group;
}

EstimateGroup wall_lines(const mesh::WallsAndRings& walls, double pressure, std::optional<double> allowed,
                         bool open) {
  EstimateGroup group{"tool walls", {}, {}};
  if (open) {
    group.not_found.push_back("the tool's surface is open above the tray floor, so no wall has a thickness");
    return group;
  }
  for (std::size_t i = 0; i < std::min(most_walls, walls.walls.size()); ++i)
    group.estimates.push_back(
        as_estimate(wall_finding(walls.walls[i], pressure, allowed), Evidence::own_arithmetic));
  for (std::size_t i = 0; i < std::min(most_walls, walls.rings.size()); ++i)
    group.estimates.push_back(as_estimate(ring_finding(walls.rings[i], pressure, allowed),
                                          Evidence::from_memory, "thick cylinder, Lame 1852"));
  if (group.estimates.empty()) group.not_found.push_back("no free-standing wall and no ring was found");
  if (!allowed) group.not_found.push_back("not judged: tool.allowed_stress is not given");
  return group;
}

}  // namespace halftool::solver
