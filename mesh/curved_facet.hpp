#pragma once
#include <Eigen/Core>
#include <array>

namespace halftool::mesh {

/// A quadratic triangle that passes through three corners with given normals there (Nagata 2005), as a Bezier
/// patch in barycentric coordinates b: q(b) = sum b_i^2 corner_i + 2 b1 b2 middle_0 + 2 b2 b0 middle_1 + 2 b0
/// b1 middle_2.
struct CurvedFacet {
  std::array<Eigen::Vector3d, 3> corner;  ///< [mm]
  std::array<Eigen::Vector3d, 3> middle;  ///< control point of the edge facing corner i [mm]
  std::array<Eigen::Vector3d, 3> normal;  ///< unit, at the corners

  /// Point on the patch [mm]. @param b  (3) barycentric coordinates
  [[nodiscard]] Eigen::Vector3d point(const Eigen::Vector3d& b) const;
  /// Unit normal: the corner normals interpolated linearly and normalised.
  [[nodiscard]] Eigen::Vector3d unit_normal(const Eigen::Vector3d& b) const;
  /// Columns d q / d b1, d q / d b2 with b0 = 1 - b1 - b2. (3, 2) [mm]
  [[nodiscard]] Eigen::Matrix<double, 3, 2> point_slopes(const Eigen::Vector3d& b) const;
  /// Columns d n / d b1, d n / d b2 of the unit normal. (3, 2)
  [[nodiscard]] Eigen::Matrix<double, 3, 2> normal_slopes(const Eigen::Vector3d& b) const;
};

/// Control point of the curve from a to b on a smooth surface with the unit normals na and nb there.
/// Both facets at a smooth edge get the same curve, since only data of the edge enter.
/// Source: T. Nagata (2005), Computer Aided Geometric Design 22, 327-347, least-norm coefficient vector,
/// written here as a part along the mean normal (the bulge) and one along the difference of the normals (the
/// skew). Departs from it: the skew is damped once it exceeds a fifth of the chord, and where the normals
/// turn by less than a milliradian, as single-precision corners of an STL file do along straight sides. It
/// divides by the turn of the normal along the edge and would grow without bound on needle facets and near
/// inflections (the defect described by Neto, Oliveira, Menezes and Alves 2014).
Eigen::Vector3d smooth_edge_control(const Eigen::Vector3d& a, const Eigen::Vector3d& na,
                                    const Eigen::Vector3d& b, const Eigen::Vector3d& nb);

/// Control point of the curve from a to b along a sharp edge: at each end the tangent lies in both faces.
/// @param na, nb  the two faces' unit normals at a and at b
Eigen::Vector3d sharp_edge_control(const Eigen::Vector3d& a, const std::array<Eigen::Vector3d, 2>& na,
                                   const Eigen::Vector3d& b, const std::array<Eigen::Vector3d, 2>& nb);

}  // namespace halftool::mesh
