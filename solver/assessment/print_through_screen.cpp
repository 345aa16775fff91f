#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

double first_yield(const ScreenLoad& load) {
  return flow_stress(load.sheet.hardening, 0).stress;
}

double span_of(const mesh::Opening& opening) {
  return opening.is_hole() ? std::max(opening.width, opening.length) : opening.width;
}

Finding sinking(const mesh::Opening& opening, const ScreenLoad& load) {
  const bool hole = opening.is_hole();
  Finding finding;
  finding.what = hole ? "hole that prints through" : "slot that prints through";
  finding.found = {hole ? "diameter" : "width", span_of(opening), "mm"};
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

}  // namespace

double sinking_span(const mesh::Opening& opening, const ScreenLoad& load) {
  const double share = first_yield(load) / load.pressure;
  return load.thickness *
         (opening.is_hole() ? std::sqrt(11.26 * share) : 2 * std::sqrt(2 * std::numbers::inv_sqrt3 * share));
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
    const bool counts = opening.depth > load.thickness &&
                        span_of(opening) < widest_opening * load.thickness && reach.reaches(opening.at);
    if (counts && span_of(opening) >= sinking_span(opening, load))
      add_finding(screen, sinking(opening, load));
  }
  return screen;
}

}  // namespace halftool::solver
