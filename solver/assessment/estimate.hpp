#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "solver/assessment/screen.hpp"

namespace halftool::solver {

/// What stands behind a formula.
enum class Evidence { published, own_arithmetic, common_practice, from_memory };

/// The word that is printed: "published", "own arithmetic", "common practice, no source", "from memory".
std::string evidence_word(Evidence evidence);

/// One value of a closed formula, with all that it rests on.
struct Estimate {
  std::string what;                           ///< "inside radius"
  Figure value;                               ///< name: which quantity
  std::optional<std::array<double, 2>> band;  ///< of the value, same unit
  Figure against;                             ///< what to hold it against; an empty name: nothing
  bool passed = false;                        ///< the value lies on the wrong side of that
  std::string formula;                        ///< in words and symbols
  std::vector<Figure> inputs;                 ///< of the formula
  Evidence evidence = Evidence::own_arithmetic;
  std::string source;                 ///< author and year, or why the figure may be off
  std::optional<Eigen::Vector3d> at;  ///< [mm]; nothing: of the whole sheet
  std::string note;                   ///< what it leaves out
};

/// The estimates of one kind, in the order in which they are printed.
struct EstimateGroup {
  std::string name;
  std::vector<Estimate> estimates;
  std::vector<std::string> not_found;  ///< what was looked for and is not there, or could not be reckoned
};

}  // namespace halftool::solver
