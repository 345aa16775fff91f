#pragma once
#include "mesh/blank.hpp"

namespace halftool::mesh {

/// Refuses a sheet that hangs together nowhere or at corners only.
/// @param places  (n_nodes, 3) of the nodes, for the message [mm]
/// @throws MeshError  the number of pieces, and where each but the largest lies
void refuse_several_pieces(const Blank& blank, const Points& places);

}  // namespace halftool::mesh
