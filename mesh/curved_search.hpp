#pragma once
#include <Eigen/Core>
#include <optional>

#include "mesh/closest_triangle.hpp"
#include "mesh/facet_net.hpp"

namespace halftool::mesh {

/// The place on the curved surface over which a point stands.
struct CurvedContact {
  double gap = 0;                   ///< signed [mm], > 0 outside
  Eigen::Vector3d normal;           ///< unit
  Eigen::Matrix3d normal_gradient;  ///< symmetric [1/mm]
  int facet = -1;
};

/// Solves x = q(b) + gap n(b) on the curved facets, beginning at the flat triangle nearest to x and going
/// over to the neighbour wherever b leaves the facet. Beyond a convex sharp edge or corner the contact is
/// with the edge or corner.
/// @return nothing if x stands beyond an open border of the surface
std::optional<CurvedContact> find_contact(const FacetNet& net, const ClosestTriangle& start,
                                          const Eigen::Vector3d& x);

}  // namespace halftool::mesh
