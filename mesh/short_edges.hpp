#pragma once
#include <functional>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Merges the two ends of border edges that are shorter than a share of the wanted edge length, as left by
/// tiny sides of an outline, which would otherwise become slivers. A node on a coordinate plane (x = 0 or y =
/// 0) is kept rather than one beside it; no triangle is turned over. The outline moves by less than the
/// edge's length.
/// @param wanted  edge length [mm] at a point of the flat mesh
void merge_short_border_edges(SurfaceMesh& mesh, const std::function<double(const Eigen::Vector2d&)>& wanted);

}  // namespace halftool::mesh
