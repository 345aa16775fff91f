#include "mesh/facet_curvature.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace halftool::mesh {
namespace {

constexpr double flat_turn = 2e-3;  // turn of the normal [rad] across a facet below which it counts as flat

}  // namespace

Eigen::Vector2d principal_curvatures(const CurvedFacet& facet) {
  double turn = 0;
  for (std::size_t i = 0; i < 3; ++i)
    turn = std::max(turn, (facet.normal[i] - facet.normal[(i + 1) % 3]).norm());
  if (turn < flat_turn) return Eigen::Vector2d::Zero();
  const Eigen::Vector3d middle = Eigen::Vector3d::Constant(1.0 / 3);
  const Eigen::Vector3d normal = facet.unit_normal(middle);
  Eigen::Matrix3d jacobian;
  jacobian.leftCols<2>() = facet.point_slopes(middle);
  jacobian.col(2) = normal;
  const Eigen::Matrix3d inverse = jacobian.inverse();
  const Eigen::Matrix3d gradient = facet.normal_slopes(middle) * inverse.topRows<2>();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(0.5 * (gradient + gradient.transpose()));
  const Eigen::Vector3d& values = eigen.eigenvalues();
  const int first = std::abs(values(0)) > std::abs(values(2)) ? 0 : 2;
  // Of the other two directions one is the normal, along which nothing turns.
  const int other = 2 - first;
  const auto along_normal = [&](int i) { return std::abs(eigen.eigenvectors().col(i).dot(normal)); };
  const int second = along_normal(1) < along_normal(other) ? 1 : other;
  return {values(first), values(second)};
}

}  // namespace halftool::mesh
