#pragma once
#include <vector>

#include "mesh/blank.hpp"

namespace halftool::solver {

/// A run of border nodes along the free edge of a flange.
struct FlangeEdge {
  std::vector<int> nodes;  ///< in order, the sheet on the left for a viewer on the pad's side
  bool closed = false;     ///< the last is followed by the first
  int start_mirror = -1;   ///< plane of symmetry that the first lies in: 0: x = 0, 1: y = 0, -1: none
  int end_mirror = -1;     ///< the same of the last
};

/// The free edges of a formed part, outer ones and those of holes, on which waves can stand: where the sheet
/// is folded out of the plane square to the press axis by more than 20 degrees, those that run along the fold
/// within 45 degrees, not across it; where nothing of a border is folded, all of it between its corners (the
/// rim of a blank that draws in). Not a held rim, nor runs of fewer than eight nodes.
std::vector<FlangeEdge> find_flange_edges(const mesh::Blank& blank, const mesh::Points& formed);

}  // namespace halftool::solver
