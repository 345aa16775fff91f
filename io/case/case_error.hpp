#pragma once
#include <stdexcept>
#include <string>
#include <vector>

namespace halftool::io {

/// One thing wrong, or doubtful, in a case file.
struct CaseProblem {
  std::string file;
  int line = 0;         ///< 0: the file as a whole
  std::string key;      ///< full path, for example "blank.hole[2].at"; empty: the file as a whole
  std::string found;    ///< what stands there
  std::string allowed;  ///< what may stand there
  std::string mend;     ///< one action to take
};
/// A doubt that does not stop the run.
using CaseWarning = CaseProblem;

/// "file:line  key" and below it, indented, found, allowed and mend.
std::string print_problem(const CaseProblem& problem);
/// All of them, with a blank line between two.
std::string print_problems(const std::vector<CaseProblem>& problems);

/// The case file cannot be run. Carries everything that is wrong in it, in the order of the lines.
class CaseError : public std::runtime_error {
 public:
  explicit CaseError(std::vector<CaseProblem> problems);
  [[nodiscard]] const std::vector<CaseProblem>& problems() const { return problems_; }

 private:
  std::vector<CaseProblem> problems_;
};

}  // namespace halftool::io
