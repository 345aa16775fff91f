#pragma once
#include <optional>
#include <string>

#include "solver/result.hpp"

namespace halftool::solver {

/// What a share is the share of. The numbers stand in files.
enum class LimitKind { none = 0, splitting = 1, thinning = 2, edge = 3, bend = 4, wrinkling = 5 };

/// "splitting", "thinning", ...; "none".
std::string kind_word(LimitKind kind);

/// Limits that are numbers of the case; nothing: not judged.
struct ShareLimits {
  std::optional<double> thinning;     ///< (t0 - t)/t0
  std::optional<double> bend_strain;  ///< true strain of the outer fibre of bends
};

/// Where a limit is used most, the wrinkling tendency left out.
struct GoverningShare {
  double share = 0;
  LimitKind kind = LimitKind::none;
  int triangle = -1;  ///< -1: nothing is judged or used
  bool outer = true;  ///< on the pad face; else on the tool face
};

/// Fills `face_share` and `face_kind`: for each face of each triangle the largest of the share of the forming
/// limit (the larger of the straight path's and the followed path's), of the thinning limit, of the limit of
/// cut edges, of the bend limit on that face, and of the
/// wrinkling tendency, which is no share of a limit and takes the face only where all shares are smaller.
/// @pre limit_share, path_share, edge_share, bent_strain and wrinkling are filled, or empty where they are
/// not judged
/// @return the largest share of a limit
GoverningShare add_governing_shares(SheetFields& fields, const ShareLimits& limits);

}  // namespace halftool::solver
