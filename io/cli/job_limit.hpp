#pragma once
#include <optional>
#include <string>

#include "io/case/case.hpp"
#include "solver/assessment/edge_limit.hpp"
#include "solver/assessment/forming_limit.hpp"

namespace halftool::io {

/// Computes the forming-limit curve where the case asks for one; what follows needs it.
/// @throws CaseError  a curve that the metal does not give
void complete_limit(Case& job);

/// The forming limit that the case asks for, if any.
std::optional<solver::FormingLimit> forming_limit(const Case& job);

/// "measured", "computed", "estimated" or "lower (computed or estimated)".
std::string limit_kind(FormingLimit limit);

/// The forming limit that judges the part and where it comes from, in a line; "none" where nothing does.
std::string limit_words(const Case& job);

/// The same for the line of trust; "not judged" where nothing judges.
std::string limit_credential(const Case& job);

/// Its name in pictures.
std::string limit_title(const Case& job);

/// The same as comment lines for `halftool check`, with the points of a computed curve.
std::string limit_facts(const Case& job);
/// The limits of cut edges and of bends as they are used, where each comes from, or that nothing is judged.
std::string edge_and_bend_facts(const Case& job);

/// A limit of strains that the case gives, and in words; "not judged" without one.
struct StrainLimit {
  std::optional<double> strain;  ///< true
  std::string words;
};
/// Limits of the strain along cut edges, and in words; "not judged" without any.
struct CutLimits {
  solver::EdgeLimits of;
  std::string words;

  /// The lowest: for an estimate that does not know which edge is which.
  [[nodiscard]] std::optional<double> lowest() const;
  /// Whether some edges have another limit than others.
  [[nodiscard]] bool differ() const { return of.holes != of.outline || of.trimmed != of.outline; }
};
CutLimits edge_limits(const Case& job);
/// Of the strain of the outer fibre of bends.
StrainLimit bend_limit(const Case& job);

}  // namespace halftool::io
