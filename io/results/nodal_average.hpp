#pragma once
#include <Eigen/Core>

#include "mesh/surface_mesh.hpp"

namespace halftool::io {

/// Smooths a field that is constant over triangles to the nodes, each triangle weighted by its area.
/// Triangles whose value is NaN are left out; a node with no other gets NaN.
/// @param triangles  (n_triangles, 3)
/// @param positions  (n_nodes, 3) [mm], where the areas are taken
/// @param values     (n_triangles)
/// @return (n_nodes), in the unit of values
Eigen::VectorXd nodal_average(const mesh::Triangles& triangles, const mesh::Points& positions,
                              const Eigen::VectorXd& values);

/// Areas of the triangles, (n_triangles) [mm2].
Eigen::VectorXd triangle_areas(const mesh::Triangles& triangles, const mesh::Points& positions);

/// Unit normals at the nodes, the mean of the triangles around each, weighted by area, (n_nodes, 3).
/// Zero at a node without a triangle.
mesh::Points nodal_normals(const mesh::Triangles& triangles, const mesh::Points& positions);

}  // namespace halftool::io
