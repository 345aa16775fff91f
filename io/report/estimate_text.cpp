#include "io/report/estimate_text.hpp"

#include <fmt/format.h>

#include "io/report/figure_text.hpp"

namespace halftool::io {
namespace {

std::string value_words(const solver::Estimate& estimate) {
  std::string text = print_figure(estimate.value, " ");
  if (estimate.band) text += fmt::format(" ({:.4g} to {:.4g})", (*estimate.band)[0], (*estimate.band)[1]);
  if (estimate.against.name.empty()) return text;
  return text + fmt::format(" ({}){}", print_figure(estimate.against, " "), estimate.passed ? " PASSED" : "");
}

std::string print_estimate(const solver::Estimate& estimate) {
  std::string inputs;
  for (const auto& input : estimate.inputs)
    inputs += (inputs.empty() ? "" : ", ") + print_figure(input, " = ");
  const std::string place = estimate.at ? fmt::format(" at ({:.1f}, {:.1f}, {:.1f}) mm", estimate.at->x(),
                                                      estimate.at->y(), estimate.at->z())
                                        : "";
  std::string text =
      wrapped("", "  - ", fmt::format("{}{}: {}", estimate.what, place, value_words(estimate)));
  text += wrapped("", "    ", fmt::format("{}; {}", estimate.formula, inputs));
  std::string ground = "[" + solver::evidence_word(estimate.evidence) +
                       (estimate.source.empty() ? "" : "; " + estimate.source) + "]";
  if (!estimate.note.empty()) ground += " " + estimate.note;
  return text + wrapped("", "    ", ground);
}

}  // namespace

std::string print_estimates(const std::vector<solver::EstimateGroup>& groups) {
  std::string text;
  for (const solver::EstimateGroup& group : groups) {
    text += fmt::format("\nOf {}\n", group.name);
    for (const solver::Estimate& estimate : group.estimates) text += print_estimate(estimate);
    for (const std::string& missing : group.not_found)
      text += wrapped("", "  - ", "not reckoned: " + missing);
  }
  return text;
}

}  // namespace halftool::io
