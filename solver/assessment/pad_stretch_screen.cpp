#include <algorithm>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

constexpr double most_stretch = 2;   // 100 percent elongation
constexpr double narrowest_gap = 1;  // [mm] that a pad is drawn into; our judgement

double stretch(const mesh::Opening& gap) {
  return 1 + 2 * gap.depth / gap.width;
}

Finding gap_finding(const mesh::Opening& gap) {
  Finding finding;
  finding.what = "gap between high parts";
  finding.found = {"stretch of the pad", stretch(gap), ""};
  finding.limit = {"limit", most_stretch, ""};
  finding.formula = "1 + 2 h/g";
  finding.inputs = {{"h", gap.depth, "mm"}, {"g", gap.width, "mm"}};
  finding.at = gap.at;
  finding.caution = "the pad may tear there: put in a filler, or move the parts apart";
  return finding;
}

}  // namespace

Screen pad_stretch_screen(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                          const ScreenLoad& load) {
  Screen screen;
  screen.name = "stretch of the pad";
  screen.rule = "gaps longer than wide that would stretch the pad to more than twice its length";
  std::vector<mesh::Opening> gaps;
  for (const mesh::Opening& gap : openings) {
    const bool bridged = reach.reaches(gap.at) && gap.width < sinking_span(gap, load);
    if (gap.is_hole() || bridged || gap.width < narrowest_gap) continue;
    if (stretch(gap) > most_stretch) gaps.push_back(gap);
  }
  std::stable_sort(gaps.begin(), gaps.end(),
                   [](const auto& a, const auto& b) { return stretch(a) > stretch(b); });
  for (const mesh::Opening& gap : gaps) add_finding(screen, gap_finding(gap));
  return screen;
}

}  // namespace halftool::solver
