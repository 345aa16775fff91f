#pragma once
#include "mesh/facet_regions.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Normals at the corners of a faceted surface whose corners lie on a piecewise smooth one: one normal a
/// corner of all facets that hang together over smooth edges there, several where a crease runs through.
/// Where a flat takes part the normal is the flat's. Others start from the facets around the corner, weighted
/// as a sphere through the corner and its neighbours asks for (N. Max, 1999, Journal of Graphics Tools 4,
/// 1-6), and are corrected by least squares so that the mean normal at the ends of each edge is square to the
/// edge, which holds along any parabola: this carries the flats' normals, and those of regular rows of
/// facets, to seams at which the curvature jumps.
/// @param corner_error  noise of the corners beyond rounding, by which corrections are held back [mm]
/// @return (3 n_triangles, 3) unit, as ToolSurface takes them
Points estimate_corner_normals(const SurfaceMesh& mesh, const EdgeTable& edges, const FacetRegions& regions,
                               double corner_error = 0);

}  // namespace halftool::mesh
