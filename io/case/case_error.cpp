#include "io/case/case_error.hpp"

#include <fmt/format.h>

namespace halftool::io {

std::string print_problem(const CaseProblem& problem) {
  std::string text = problem.file;
  if (problem.line > 0) text += fmt::format(":{}", problem.line);
  if (!problem.key.empty()) text += "  " + problem.key;
  if (!problem.found.empty()) text += "\n    found    " + problem.found;
  if (!problem.allowed.empty()) text += "\n    allowed  " + problem.allowed;
  if (!problem.mend.empty()) text += "\n    mend     " + problem.mend;
  return text;
}

std::string print_problems(const std::vector<CaseProblem>& problems) {
  std::string text;
  for (const auto& problem : problems) text += (text.empty() ? "" : "\n\n") + print_problem(problem);
  return text;
}

CaseError::CaseError(std::vector<CaseProblem> problems)
    : std::runtime_error(print_problems(problems)), problems_(std::move(problems)) {}

}  // namespace halftool::io
