#pragma once
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// What the facets of a faceted surface are parts of, told by the turns between them alone.
struct FacetRegions {
  std::vector<bool> crease;  ///< (n_edges) sharp edges, and borders
  std::vector<int> flat_of;  ///< (n_triangles) number of the flat that the facet is part of, or -1
  std::vector<Eigen::Vector3d> flat_normal;  ///< unit, of each flat
};

/// Tells creases, flats and facets of curved faces apart. Regions are sets of facets in one plane; a region
/// is a flat, or one facet strip of a curved face.
///
/// An edge is a crease if the normal turns there by more than 40 degrees: a fillet with two facets over 90
/// degrees has 45 between them and cannot be told from a chamfer, one with three has 30. So it is, too, if it
/// turns by more than 15 degrees and 2.5 times as much as at any other smooth edge of the two regions: at the
/// seam of two smooth faces the turn is the mean of their facets' turns, never more than the larger; and if
/// the two regions have no other smooth edge.
///
/// A region of several facets is a flat if all regions that it goes over to smoothly are smaller by half, and
/// the turn to each is below 0.75 of the largest one on the far side of that one: half of it at the seam of a
/// plane with a round, all of it between equal facets of a round. Ten times the area is taken as a flat
/// without that; a single facet, which may be a coarse one of an irregular round, needs both. All limits are
/// our own choice.
/// @param corner_error  what the corners are known to lie out of a plane by, beyond rounding [mm]
FacetRegions find_regions(const SurfaceMesh& mesh, const EdgeTable& edges, double corner_error = 0);

/// Unit normal of each flat triangle, (n_triangles, 3).
Points facet_normals(const SurfaceMesh& mesh);

}  // namespace halftool::mesh
