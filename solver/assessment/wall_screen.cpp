#include <algorithm>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

constexpr const char* caution =
    "Screening only, no strength clearance; a competent person must approve the tool. Stress concentration "
    "is "
    "left out; pressure on the other side of a wall, which relieves it, too";

void judge(Finding& finding, std::optional<double> allowed) {
  if (allowed) finding.limit = {"allowed stress", *allowed, "MPa"};
  finding.tripped = allowed && finding.found.value > *allowed;
  finding.caution = caution;
}

}  // namespace

Finding wall_finding(const mesh::Wall& wall, double pressure, std::optional<double> allowed) {
  Finding finding;
  finding.what = "wall";
  finding.found = {"stress at its root", wall_root_stress(pressure, wall.height, wall.thickness), "MPa"};
  finding.formula = "3 p (h/b)^2, so b/h of at least sqrt(3 p/allowed stress)";
  finding.inputs = {{"p", pressure, "MPa"},
                    {"h", wall.height, "mm"},
                    {"b", wall.thickness, "mm"},
                    {"b/h", 1 / wall.slenderness(), ""}};
  if (allowed) finding.inputs.push_back({"b/h needed", least_wall_ratio(pressure, *allowed), ""});
  finding.at = wall.at;
  judge(finding, allowed);
  return finding;
}

Finding ring_finding(const mesh::Ring& ring, double pressure, std::optional<double> allowed) {
  Finding finding;
  finding.what = "ring round a cavity";
  finding.found = {"hoop stress", ring_hoop_stress(pressure, ring.ratio()), "MPa"};
  finding.formula = "p (k^2 + 1)/(k^2 - 1), k = outer over inner radius";
  finding.inputs = {{"p", pressure, "MPa"},
                    {"inner radius", ring.inner_radius, "mm"},
                    {"outer radius", ring.outer_radius, "mm"},
                    {"k", ring.ratio(), ""}};
  finding.at = ring.at;
  judge(finding, allowed);
  return finding;
}

Screen wall_screen(const mesh::WallsAndRings& walls, double pressure, std::optional<double> allowed,
                   bool open) {
  Screen screen;
  screen.name = "walls and rings";
  screen.rule =
      "walls under pressure on one side, and rings round cavities, stressed above tool.allowed_stress";
  if (open) {
    screen.not_run = "the tool's surface is open above the tray floor, so no wall has a thickness";
    return screen;
  }
  if (!allowed) screen.not_run = "tool.allowed_stress is not given; the highest stress found follows";
  std::vector<Finding> findings;
  for (const auto& wall : walls.walls) findings.push_back(wall_finding(wall, pressure, allowed));
  for (const auto& ring : walls.rings) findings.push_back(ring_finding(ring, pressure, allowed));
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.found.value > b.found.value; });
  for (auto& finding : findings) {
    const bool worst_untold = !allowed && screen.findings.empty();
    if (finding.tripped || worst_untold) add_finding(screen, std::move(finding));
  }
  return screen;
}

}  // namespace halftool::solver
