#pragma once
#include <string>
#include <utility>
#include <vector>

#include "io/case/case_error.hpp"

namespace halftool::io {

/// Gathers what is wrong and what is doubtful while a case file is read.
struct Findings {
  std::string file;
  std::vector<CaseProblem> errors;
  std::vector<CaseWarning> warnings;

  void error(int line, std::string key, std::string found, std::string allowed, std::string mend) {
    errors.push_back({file, line, std::move(key), std::move(found), std::move(allowed), std::move(mend)});
  }
  void warning(int line, std::string key, std::string found, std::string allowed, std::string mend) {
    warnings.push_back({file, line, std::move(key), std::move(found), std::move(allowed), std::move(mend)});
  }
};

}  // namespace halftool::io
