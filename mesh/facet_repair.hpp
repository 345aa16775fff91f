#pragma once
#include <string>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Diagonal of the box around all nodes [mm].
double extent_of(const SurfaceMesh& mesh);

/// Of the extent: corners closer than this are one, and facets lower than this have no area. Single-precision
/// coordinates are known to 6e-8 of the extent, the six digits of many text files to 1e-6.
inline constexpr double weld_share = 1e-6;
/// Of the extent: corners on the two banks of a gap that are closer than this are one.
inline constexpr double gap_share = 1e-4;

/// Mends what can be mended without a doubt in facets that share no corners yet, and says so: corners at one
/// place are merged (weld_share of the extent); facets without area are dropped, and the neighbour across the
/// longest side is split at the middle corner so that no open joint is left; facets given twice are dropped;
/// the banks of gaps are merged (gap_share, never more than a quarter of the edges there); facets whose side
/// has a corner of the other bank on it are split there.
/// @param notes  a line for each kind of repair, with the count and the place of the first
/// @throws MeshError  nothing with an area is left
void repair_facets(SurfaceMesh& mesh, std::vector<std::string>& notes);

}  // namespace halftool::mesh
