#pragma once
#include <vector>

#include "mesh/curve_sizes.hpp"
#include "mesh/gmsh_session.hpp"

namespace halftool::mesh {

/// Asks Gmsh for regular facets on cylinder, torus and turned faces with four square sides (fillets): the
/// normal turns by at most `angle` [rad] across one, and it is up to six times as long as wide (twice if its
/// long side is curved). Faces whose regular facets would be too coarse for an irregular neighbour are left
/// irregular.
void set_regular_faces(const GmshSession& session, const std::vector<int>& surfaces, double angle,
                       const CurveSizes& sizes);

}  // namespace halftool::mesh
