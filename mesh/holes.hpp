#pragma once
#include <string>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Of the extent: holes up to this size (diagonal of the box around their border) are filled.
inline constexpr double filled_share = 0.01;

/// Fills small holes (filled_share of the extent), each by a fan about the middle of its border, or by one
/// facet if it has three sides.
/// @param notes  a line with the count and the place of the first
void fill_small_holes(SurfaceMesh& mesh, std::vector<std::string>& notes);

/// Refuses holes that are left. Not a hole is the border around a whole piece of the surface seen along z
/// (the rim of an open surface), nor, over a tray floor, an opening at the lowest point (a tool without its
/// base).
/// @throws MeshError  naming place and size of the largest, or the open seam that its border is a bank of
void refuse_holes(const SurfaceMesh& mesh, bool tray_floor);

}  // namespace halftool::mesh
