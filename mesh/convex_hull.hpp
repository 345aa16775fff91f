#pragma once
#include <Eigen/Core>
#include <vector>

namespace halftool::mesh {

/// Corners of the convex hull of points in a plane, counter-clockwise; of points on one line its two ends, of
/// one point itself. By monotone chains (Andrew 1979, from memory).
std::vector<Eigen::Vector2d> convex_hull(std::vector<Eigen::Vector2d> points);

}  // namespace halftool::mesh
