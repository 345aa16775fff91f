#include "mesh/curved_facet.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace halftool::mesh {
namespace {

constexpr double largest_skew = 0.2;     // of the chord
constexpr double uncertain_turn = 1e-3;  // [rad] of the normals along an edge, below which it gives no skew
constexpr double largest_bulge = 0.5;    // of the chord; a quarter turn along one edge gives 1.0

}  // namespace

Eigen::Vector3d CurvedFacet::point(const Eigen::Vector3d& b) const {
  return b(0) * (b(0) * corner[0] + 2 * b(1) * middle[2]) + b(1) * (b(1) * corner[1] + 2 * b(2) * middle[0]) +
         b(2) * (b(2) * corner[2] + 2 * b(0) * middle[1]);
}

Eigen::Vector3d CurvedFacet::unit_normal(const Eigen::Vector3d& b) const {
  return (b(0) * normal[0] + b(1) * normal[1] + b(2) * normal[2]).normalized();
}

Eigen::Matrix<double, 3, 2> CurvedFacet::point_slopes(const Eigen::Vector3d& b) const {
  const Eigen::Vector3d d0 = b(0) * corner[0] + b(1) * middle[2] + b(2) * middle[1];
  const Eigen::Vector3d d1 = b(0) * middle[2] + b(1) * corner[1] + b(2) * middle[0];
  const Eigen::Vector3d d2 = b(0) * middle[1] + b(1) * middle[0] + b(2) * corner[2];
  Eigen::Matrix<double, 3, 2> slopes;
  slopes.col(0) = 2 * (d1 - d0);
  slopes.col(1) = 2 * (d2 - d0);
  return slopes;
}

Eigen::Matrix<double, 3, 2> CurvedFacet::normal_slopes(const Eigen::Vector3d& b) const {
  const Eigen::Vector3d sum = b(0) * normal[0] + b(1) * normal[1] + b(2) * normal[2];
  const double length = sum.norm();
  const Eigen::Vector3d n = sum / length;
  Eigen::Matrix<double, 3, 2> slopes;
  for (int i = 0; i < 2; ++i) {
    const Eigen::Vector3d slope = normal[static_cast<std::size_t>(i) + 1] - normal[0];
    slopes.col(i) = (slope - n * n.dot(slope)) / length;
  }
  return slopes;
}

Eigen::Vector3d smooth_edge_control(const Eigen::Vector3d& a, const Eigen::Vector3d& na,
                                    const Eigen::Vector3d& b, const Eigen::Vector3d& nb) {
  const Eigen::Vector3d chord = b - a;
  const Eigen::Vector3d mean = 0.5 * (na + nb);
  const Eigen::Vector3d half_turn = 0.5 * (na - nb);
  const double length = chord.norm();
  Eigen::Vector3d c = Eigen::Vector3d::Zero();
  if (mean.squaredNorm() > 0.1) {
    c = mean * (half_turn.dot(chord) / mean.squaredNorm());
    if (c.norm() > largest_bulge * length) c *= largest_bulge * length / c.norm();
  }
  const Eigen::Vector3d skew =
      half_turn * (mean.dot(chord) / (half_turn.squaredNorm() + uncertain_turn * uncertain_turn));
  const double ratio = skew.norm() / (largest_skew * length);
  c += ratio > 1 ? Eigen::Vector3d(skew / (ratio * ratio)) : skew;
  return a + 0.5 * (chord - c);
}

Eigen::Vector3d sharp_edge_control(const Eigen::Vector3d& a, const std::array<Eigen::Vector3d, 2>& na,
                                   const Eigen::Vector3d& b, const std::array<Eigen::Vector3d, 2>& nb) {
  // n . (chord - c) = 0 for both normals at a and n . (chord + c) = 0 for both at b: four equations for three
  // unknowns.
  const Eigen::Vector3d chord = b - a;
  Eigen::Matrix<double, 4, 3> normals;
  Eigen::Vector4d rhs;
  for (int i = 0; i < 2; ++i) {
    const auto k = static_cast<std::size_t>(i);
    normals.row(i) = na[k];
    normals.row(2 + i) = nb[k];
    rhs(i) = na[k].dot(chord);
    rhs(2 + i) = -nb[k].dot(chord);
  }
  Eigen::JacobiSVD<Eigen::MatrixXd> svd(normals, Eigen::ComputeThinU | Eigen::ComputeThinV);
  svd.setThreshold(0.01);
  Eigen::Vector3d c = svd.solve(rhs);
  const double limit = largest_bulge * chord.norm();
  if (c.norm() > limit) c *= limit / c.norm();
  return a + 0.5 * (chord - c);
}

}  // namespace halftool::mesh
