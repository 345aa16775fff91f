#include "solver/assessment/screen.hpp"

namespace halftool::solver {

void add_finding(Screen& screen, Finding finding) {
  if (static_cast<int>(screen.findings.size()) < most_findings)
    screen.findings.push_back(std::move(finding));
  else
    ++screen.more;
}

}  // namespace halftool::solver
