#pragma once
#include "mesh/curved_facet.hpp"

namespace halftool::mesh {

/// The two principal curvatures at the middle of a facet [1/mm], > 0 convex, the one of larger size first;
/// both 0 for a facet whose normal turns by less than 2 mrad.
Eigen::Vector2d principal_curvatures(const CurvedFacet& facet);

}  // namespace halftool::mesh
