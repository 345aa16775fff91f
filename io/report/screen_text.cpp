#include "io/report/screen_text.hpp"

#include <fmt/format.h>

#include "io/report/figure_text.hpp"

namespace halftool::io {
namespace {

std::string print_finding(const solver::Finding& finding, const std::string& prefix) {
  const std::string limit =
      finding.limit.name.empty() ? "" : fmt::format(" ({})", print_figure(finding.limit, " "));
  std::string inputs;
  for (const auto& input : finding.inputs)
    inputs += (inputs.empty() ? "" : ", ") + print_figure(input, " = ");
  std::string text =
      wrapped(prefix, "    - ",
              fmt::format("{} at ({:.1f}, {:.1f}, {:.1f}) mm: {}{}", finding.what, finding.at.x(),
                          finding.at.y(), finding.at.z(), print_figure(finding.found, " "), limit));
  text += wrapped(prefix, "      ", finding.formula + (inputs.empty() ? "" : "; " + inputs));
  return text + wrapped(prefix, "      ", "caution: " + finding.caution);
}

std::string state_of(const solver::Screen& screen) {
  if (screen.tripped()) return "TRIPPED";
  if (screen.not_run.empty()) return "not tripped";
  return (screen.findings.empty() ? "not run, " : "not judged, ") + screen.not_run;
}

std::string print_screen(const solver::Screen& screen, const std::string& prefix) {
  std::string text =
      wrapped(prefix, "  ", fmt::format("{}: {} [{}]", screen.name, state_of(screen), screen.rule));
  for (const auto& finding : screen.findings) text += print_finding(finding, prefix);
  if (screen.more > 0) text += wrapped(prefix, "    - ", fmt::format("and {} more", screen.more));
  return text;
}

std::string count_words(const std::vector<solver::Screen>& screens) {
  int run = 0, tripped = 0;
  for (const auto& screen : screens) {
    if (screen.not_run.empty()) ++run;
    if (screen.tripped()) ++tripped;
  }
  return fmt::format("{} of {} screens run, {} tripped", run, screens.size(),
                     tripped == 0 ? "none" : std::to_string(tripped));
}

}  // namespace

std::string print_screens(const std::vector<solver::Screen>& screens, const std::string& prefix) {
  std::string text = wrapped(
      prefix, "", "Screens of the tool half against sheet and peak pressure: " + count_words(screens));
  text += wrapped(prefix, "  ",
                  "Rough estimates before anything is solved. What no screen finds is not cleared by it: a "
                  "competent person must approve tool and pressing.");
  for (const auto& screen : screens) text += print_screen(screen, prefix);
  return text;
}

}  // namespace halftool::io
