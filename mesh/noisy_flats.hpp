#pragma once
#include <string>
#include <vector>

#include "mesh/curved_facet.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Largest distance of a curved facet from the flat one through its corners [mm].
double bulge_of(const CurvedFacet& facet);

/// Corner normals as estimate_corner_normals gives them, with flats found also where their corners lie out of
/// their plane by more than rounding, as in a file of few digits or where a seam was closed. Such facets turn
/// among themselves, and an estimate from those turns may lift the surface off them by far more than the
/// corners are out.
///
/// Facets that hang together over smooth edges are taken for a flat if the estimate lifts the surface off one
/// of them by more than twice what their corners lie out of one plane (five times, where that is more than
/// gap_share of the extent), and every flat or strip that they go over to smoothly has less than a tenth of
/// their area. Corners of a round lie out of any plane by at least as much as the round stands off its
/// facets. What the corners of such flats are out by, up to gap_share, then counts as the noise of all
/// corners. All limits are our own choice.
/// @param notes  a line with distance and place where there are such flats; another where facets with only
/// much smaller ones beside them are rounded by more than gap_share of the extent
/// @return (3 n_triangles, 3) unit
Points estimate_beside_noisy_flats(const SurfaceMesh& mesh, const EdgeTable& edges,
                                   std::vector<std::string>& notes);

}  // namespace halftool::mesh
