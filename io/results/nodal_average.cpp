#include "io/results/nodal_average.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <limits>

namespace halftool::io {
namespace {

/// Twice the area of triangle t as a vector along its normal [mm2].
Eigen::Vector3d double_area(const mesh::Triangles& triangles, const mesh::Points& positions, Eigen::Index t) {
  const Eigen::Vector3d a = positions.row(triangles(t, 0));
  const Eigen::Vector3d b = positions.row(triangles(t, 1));
  const Eigen::Vector3d c = positions.row(triangles(t, 2));
  return (b - a).cross(c - a);
}

}  // namespace

Eigen::VectorXd triangle_areas(const mesh::Triangles& triangles, const mesh::Points& positions) {
  Eigen::VectorXd areas(triangles.rows());
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    areas(t) = 0.5 * double_area(triangles, positions, t).norm();
  return areas;
}

Eigen::VectorXd nodal_average(const mesh::Triangles& triangles, const mesh::Points& positions,
                              const Eigen::VectorXd& values) {
  Eigen::VectorXd sum = Eigen::VectorXd::Zero(positions.rows());
  Eigen::VectorXd weight = Eigen::VectorXd::Zero(positions.rows());
  const Eigen::VectorXd areas = triangle_areas(triangles, positions);
  for (Eigen::Index t = 0; t < triangles.rows(); ++t) {
    if (std::isnan(values(t))) continue;
    for (int i = 0; i < 3; ++i) {
      sum(triangles(t, i)) += areas(t) * values(t);
      weight(triangles(t, i)) += areas(t);
    }
  }
  for (Eigen::Index n = 0; n < sum.size(); ++n)
    sum(n) = weight(n) > 0 ? sum(n) / weight(n) : std::numeric_limits<double>::quiet_NaN();
  return sum;
}

mesh::Points nodal_normals(const mesh::Triangles& triangles, const mesh::Points& positions) {
  mesh::Points normals = mesh::Points::Zero(positions.rows(), 3);
  for (Eigen::Index t = 0; t < triangles.rows(); ++t) {
    const Eigen::Vector3d normal = double_area(triangles, positions, t);
    for (int i = 0; i < 3; ++i) normals.row(triangles(t, i)) += normal.transpose();
  }
  for (Eigen::Index n = 0; n < normals.rows(); ++n)
    if (const double length = normals.row(n).norm(); length > 0) normals.row(n) /= length;
  return normals;
}

}  // namespace halftool::io
