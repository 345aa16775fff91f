#include <numbers>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double gripping = 3 * degree;

Finding lean(const mesh::Undercut& undercut) {
  Finding finding;
  const bool worse = undercut.angle > gripping;
  finding.what = worse ? "undercut above 3 deg" : "undercut";
  finding.found = {"lean", undercut.angle / degree, "deg"};
  finding.limit = {"limit", 0.1, "deg"};
  finding.formula = "lean = -asin(n_z) of the facets";
  finding.inputs = {{"area", undercut.area, "mm2"}};
  finding.at = undercut.at;
  if (!undercut.reached)
    finding.caution = "the sheet does not come to lie there, but the pad may close round it and tear";
  else if (worse)
    finding.caution = "the part grips the tool; it cannot be lifted off along the press axis";
  else
    finding.caution = "the part grips the tool unless it springs open by as much; plan how it comes off";
  return finding;
}

}  // namespace

Screen undercut_screen(const std::vector<mesh::Undercut>& undercuts, const mesh::Shadow& shadow) {
  Screen screen;
  screen.name = "undercuts";
  screen.rule = "faces above the tray floor that lean past the press axis by more than 0.1 deg";
  for (const mesh::Undercut& undercut : undercuts) add_finding(screen, lean(undercut));
  if (shadow.area > 0) {
    Finding finding;
    finding.what = "part of the tool that cannot be seen from above";
    finding.found = {"area", shadow.area, "mm2"};
    finding.limit = {"limit", 0, "mm2"};
    finding.formula = "faces that look up and from which a ray along the press axis meets the tool";
    finding.at = shadow.at;
    finding.caution = "neither sheet nor pad reaches it and comes out again";
    add_finding(screen, std::move(finding));
  }
  return screen;
}

}  // namespace halftool::solver
