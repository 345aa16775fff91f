#pragma once
#include <Eigen/Core>

#include "solver/kinematics/shell_triangle.hpp"

namespace halftool::solver {

/// Positions and turns: the first 12 unknowns of a triangle; bows do not enter its current shape.
inline constexpr int kRiseUnknowns = 12;
using RiseMatrix = Eigen::Matrix<double, kRiseUnknowns, kRiseUnknowns>;

/// The flat triangle in the current state, with the turns of its mid-side normals. Column or entry i belongs
/// to the edge facing node i, walked from node i+1 to node i+2, or to node i.
struct CurrentTriangle {
  Eigen::Vector3d normal;    ///< unit, of the counter-clockwise walk
  double area;               ///< [mm2]
  Eigen::Matrix3d tangent;   ///< unit, along the walk
  Eigen::Matrix3d outward;   ///< unit, in the plane, perpendicular to the edge
  Eigen::Vector3d length;    ///< of the edge [mm]
  Eigen::Vector3d height;    ///< of node i above the edge [mm]
  Eigen::Vector3d foot;      ///< where the height meets the edge, as a share of the walk from node i+1
  Eigen::Matrix3d holonomy;  ///< what the turn gains, and the director loses, for a change of the edge [1/mm]
  Eigen::Matrix3d curl;      ///< second factor in the symmetric part of d holonomy / d edge [1/mm]
  Eigen::Vector3d turn;      ///< beta: from mid-side normal to triangle normal about the walked edge [rad]
  Eigen::Vector3d sign;      ///< see TriangleReference::sign
};

/// @param sign  see TriangleReference::sign
CurrentTriangle current_triangle(const Eigen::Vector3d& sign, const TriangleState& state);

/// (3, 3) column a: in-plane gradient of the flat triangle's barycentric coordinate a [1/mm].
Eigen::Matrix3d barycentric_gradients(const CurrentTriangle& triangle);

/// Rise of edge i: height(i) * turn(i) [mm]. The second fundamental form in reference coordinates is
/// sum_i 2/h_i^2 rise_i nu_i nu_i^T and the sagittas are minus a quarter of the two other edges' rises.
/// @return (12, 3) column i: d rise i / d (positions, turns)
Eigen::Matrix<double, kRiseUnknowns, 3> rise_gradients(const CurrentTriangle& triangle);

/// Sum over the edges of weight(i) times the Hessian of rise i; symmetric.
RiseMatrix rise_hessian(const CurrentTriangle& triangle, const Eigen::Vector3d& weight);

}  // namespace halftool::solver
