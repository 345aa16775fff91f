#include "io/case/checks/case_checks.hpp"

#include <algorithm>

#include "io/case/key_path.hpp"

namespace halftool::io {

bool CheckedCase::sound(const std::vector<std::string>& keys) const {
  const auto touches = [&](const std::string& other) {
    return std::any_of(keys.begin(), keys.end(), [&](const std::string& key) {
      return is_within(other, key) || is_within(key, other);
    });
  };
  return std::none_of(findings.errors.begin(), findings.errors.end(),
                      [&](const auto& e) { return touches(e.key); }) &&
         std::none_of(undecided.begin(), undecided.end(), touches) &&
         std::none_of(meant.begin(), meant.end(), touches);
}

bool CheckedCase::decided(const std::string& table) const {
  return std::none_of(undecided.begin(), undecided.end(),
                      [&](const auto& key) { return parent_of(key) == table; });
}

void CheckedCase::error(const std::string& key, std::string found, std::string allowed,
                        std::string mend) const {
  const auto line = lines.find(key);
  findings.error(line == lines.end() ? 0 : line->second, key, std::move(found), std::move(allowed),
                 std::move(mend));
}

void CheckedCase::warning(const std::string& key, std::string found, std::string allowed,
                          std::string mend) const {
  const auto line = lines.find(key);
  findings.warning(line == lines.end() ? 0 : line->second, key, std::move(found), std::move(allowed),
                   std::move(mend));
}

CaseProblem problem_at(const Case& values, const std::vector<std::string>& keys) {
  const auto given =
      std::find_if(keys.begin(), keys.end(), [&](const auto& key) { return values.given.contains(key); });
  const std::string& key = given == keys.end() ? keys.front() : *given;
  CaseProblem problem;
  problem.file = values.file.string();
  problem.line = given == keys.end() ? 0 : values.given.at(key);
  problem.key = key;
  return problem;
}

}  // namespace halftool::io
