#pragma once
#include <vector>

#include "mesh/curve_sizes.hpp"
#include "mesh/face_patch.hpp"
#include "mesh/gmsh_session.hpp"

namespace halftool::mesh {

/// A patch that is to be filled with facets once its sides are meshed, see lay_patch.
struct LaidPatch {
  FacePatch patch;
  int n_rows = 0;
};

/// Asks Gmsh for regular facets on cylinder, torus and turned faces with four square sides (fillets): the
/// normal turns by at most `angle` [rad] across one, and it is up to six times as long as wide (twice if its
/// long side is curved). Faces whose regular facets would be too coarse for an irregular neighbour are left
/// irregular.
/// @param all_patches  also on any other face that can be laid out in rows and columns; none of these is left
/// to Gmsh then
/// @return the patches to be left out of meshing and laid afterwards
std::vector<LaidPatch> set_regular_faces(const GmshSession& session, const std::vector<int>& surfaces,
                                         double angle, const CurveSizes& sizes, bool all_patches);

}  // namespace halftool::mesh
