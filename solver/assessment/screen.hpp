#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

namespace halftool::solver {

/// A named number with its unit, as it is printed.
struct Figure {
  std::string name;
  double value = 0;
  std::string unit;  ///< empty: a bare number
};

/// One place that a screen found, with all that its judgement rests on.
struct Finding {
  std::string what;  ///< "inside radius"
  bool tripped = true;
  Figure found;                ///< what the formula gives
  Figure limit;                ///< what it is held against; an empty name: nothing to hold it against
  std::string formula;         ///< in words and symbols
  std::vector<Figure> inputs;  ///< of the formula
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< [mm]
  std::string caution;                           ///< what it means, and what it does not
};

/// A quick estimate of one way in which tool half, sheet and pressure do not go together. It never clears
/// anything: a screen that did not trip has found nothing by its own rule, and no more.
struct Screen {
  std::string name;
  std::string rule;               ///< what it looks at and when it trips
  std::string not_run;            ///< why it could not be run or could not judge; empty: it did
  std::vector<Finding> findings;  ///< worst first, at most `most_findings`
  int more = 0;                   ///< findings left out

  [[nodiscard]] bool tripped() const {
    for (const Finding& finding : findings)
      if (finding.tripped) return true;
    return false;
  }
};

constexpr int most_findings = 3;  ///< a screen lists: enough to act on

/// Adds a finding, or counts it when the list is full.
void add_finding(Screen& screen, Finding finding);

}  // namespace halftool::solver
