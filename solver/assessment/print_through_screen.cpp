#include <algorithm>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

double span_of(const mesh::Opening& opening) {
  return opening.is_hole() ? std::max(opening.width, opening.length) : opening.width;
}

}  // namespace

double sinking_span(const mesh::Opening& opening, const ScreenLoad& load) {
  const auto span = opening.is_hole() ? sinking_diameter : sinking_width;
  return span(first_yield(load), load.thickness, load.pressure);
}

bool opening_counts(const mesh::Opening& opening, const mesh::SheetReach& reach, const ScreenLoad& load) {
  return opening.depth > load.thickness && span_of(opening) < widest_opening * load.thickness &&
         reach.reaches(opening.at);
}

Finding opening_finding(const mesh::Opening& opening, const ScreenLoad& load) {
  const bool hole = opening.is_hole();
  Finding finding;
  finding.what = hole ? "hole that prints through" : "slot that prints through";
  finding.found = {hole ? "diameter" : "width", span_of(opening), "mm"};
  finding.tripped = finding.found.value >= sinking_span(opening, load);
  finding.limit = {"sinks from", sinking_span(opening, load), "mm"};
  finding.formula = hole ? "D = t sqrt(11.26 sigma/p)" : "w = 2 t sqrt((2/sqrt 3) sigma/p)";
  finding.inputs = {{"t", load.thickness, "mm"},
                    {"sigma", first_yield(load), "MPa"},
                    {"p", load.pressure, "MPa"},
                    {"depth", opening.depth, "mm"}};
  finding.at = opening.at;
  finding.caution = "the sheet begins to sink in and keeps the mark; sigma is the first yield";
  return finding;
}

std::vector<mesh::Opening> bridged_openings(const std::vector<mesh::Opening>& openings,
                                            const ScreenLoad& load) {
  std::vector<mesh::Opening> bridged;
  for (const mesh::Opening& opening : openings)
    if (span_of(opening) < sinking_span(opening, load)) bridged.push_back(opening);
  return bridged;
}

Screen print_through_screen(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                            const ScreenLoad& load) {
  Screen screen;
  screen.name = "openings that print through";
  screen.rule =
      "holes and slots under the sheet, deeper than 1 and narrower than 20 thicknesses, that it sinks into";
  for (const mesh::Opening& opening : openings) {
    if (!opening_counts(opening, reach, load)) continue;
    if (Finding finding = opening_finding(opening, load); finding.tripped)
      add_finding(screen, std::move(finding));
  }
  return screen;
}

}  // namespace halftool::solver
