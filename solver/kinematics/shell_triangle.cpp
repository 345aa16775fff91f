#include "solver/kinematics/shell_triangle.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <stdexcept>

#include "solver/kinematics/triangle_rise.hpp"

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

// [11, 22, 2 * 12] of nu nu^T.
Vector3d strain_of_normal(const TriangleReference& reference, int edge) {
  const Eigen::Vector2d nu = reference.normal.col(edge);
  return {nu.x() * nu.x(), nu.y() * nu.y(), 2 * nu.x() * nu.y()};
}

// (2, 3) column a: gradient of the barycentric coordinate a in the reference.
Eigen::Matrix<double, 2, 3> shape_gradients(const TriangleReference& reference) {
  return -reference.normal * reference.height.cwiseInverse().asDiagonal();
}

// Strain [E11, E22, 2 E12] of a unit bow of edge i where its shape function 4 Nj Nk has the gradient `slope`.
Vector3d bow_strain(const TriangleReference& reference, int edge, const Eigen::Vector2d& slope) {
  const Eigen::Vector2d nu = reference.sign(edge) * reference.normal.col(edge);
  return {nu.x() * slope.x(), nu.y() * slope.y(), nu.x() * slope.y() + nu.y() * slope.x()};
}

void set_membrane(const TriangleReference& reference, const TriangleState& state, TriangleStrain& strain) {
  const Eigen::Matrix<double, 2, 3> slope = shape_gradients(reference);
  const Eigen::Matrix<double, 3, 2> stretch = state.positions * slope.transpose();
  strain.value.head<3>() << 0.5 * (stretch.col(0).squaredNorm() - 1),
      0.5 * (stretch.col(1).squaredNorm() - 1), stretch.col(0).dot(stretch.col(1));
  for (int a = 0; a < 3; ++a) {
    strain.gradient.block<1, 3>(0, 3 * a) = slope(0, a) * stretch.col(0).transpose();
    strain.gradient.block<1, 3>(1, 3 * a) = slope(1, a) * stretch.col(1).transpose();
    strain.gradient.block<1, 3>(2, 3 * a) =
        slope(0, a) * stretch.col(1).transpose() + slope(1, a) * stretch.col(0).transpose();
    const Vector3d bow = strain_of_normal(reference, a) * (reference.sign(a) * 4 / (3 * reference.height(a)));
    strain.gradient.block<3, 1>(0, 12 + a) = bow;
    strain.value.head<3>() += state.bow(a) * bow;
  }
}

void set_curvature(const TriangleReference& reference, const CurrentTriangle& current,
                   TriangleStrain& strain) {
  const Eigen::Matrix<double, kRiseUnknowns, 3> rise_gradient = rise_gradients(current);
  Matrix3d tensor;  // column i: k for a unit rise of edge i
  Vector3d rise;
  for (int i = 0; i < 3; ++i) {
    const double height = reference.height(i);
    tensor.col(i) = strain_of_normal(reference, i) * (2 / (height * height));
    rise(i) = current.height(i) * current.turn(i) - height * reference.initial_turn(i);
  }
  strain.value.tail<3>() = tensor * rise;
  strain.gradient.bottomLeftCorner<3, kRiseUnknowns>() = tensor * rise_gradient.transpose();
}

}  // namespace

TriangleReference make_reference(const Matrix3d& positions, const Vector3d& axis, const Vector3d& sign,
                                 const TriangleState& state) {
  TriangleState undeformed = state;
  undeformed.positions = positions;
  const CurrentTriangle flat = current_triangle(sign, undeformed);
  if (!(flat.area > 0)) throw std::invalid_argument("make_reference: the triangle has no area");
  Vector3d first = axis - axis.dot(flat.normal) * flat.normal;
  if (!(first.norm() > 1e-6 * axis.norm()))
    throw std::invalid_argument("make_reference: the material axis is normal to the triangle");
  first.normalize();
  Eigen::Matrix<double, 2, 3> in_plane;
  in_plane << first.transpose(), flat.normal.cross(first).transpose();

  TriangleReference reference;
  reference.corner = in_plane * (positions.colwise() - positions.rowwise().mean());
  reference.normal = in_plane * flat.outward;
  reference.height = flat.height;
  reference.length = flat.length;
  reference.area = flat.area;
  reference.sign = sign;
  reference.initial_turn = flat.turn;
  return reference;
}

TriangleStrain triangle_strain(const TriangleReference& reference, const TriangleState& state) {
  TriangleStrain strain;
  strain.gradient.setZero();
  set_membrane(reference, state, strain);
  set_curvature(reference, current_triangle(reference.sign, state), strain);
  return strain;
}

TriangleMatrix geometric_stiffness(const TriangleReference& reference, const TriangleState& state,
                                   const Eigen::Matrix<double, 6, 1>& resultant) {
  Vector3d weight;
  for (int i = 0; i < 3; ++i)
    weight(i) = resultant.tail<3>().dot(strain_of_normal(reference, i)) * 2 /
                (reference.height(i) * reference.height(i));
  TriangleMatrix stiffness = TriangleMatrix::Zero();
  stiffness.topLeftCorner<kRiseUnknowns, kRiseUnknowns>() =
      rise_hessian(current_triangle(reference.sign, state), weight);

  const Eigen::Matrix<double, 2, 3> slope = shape_gradients(reference);
  Eigen::Matrix2d force;
  force << resultant(0), resultant(2), resultant(2), resultant(1);
  const Matrix3d membrane = slope.transpose() * force * slope;
  for (int a = 0; a < 3; ++a)
    for (int b = 0; b < 3; ++b) stiffness.block<3, 3>(3 * a, 3 * b).diagonal().array() += membrane(a, b);
  return stiffness;
}

Matrix3d bow_stabilisation(const TriangleReference& reference, const Matrix3d& plane_stress,
                           double thickness) {
  const Eigen::Matrix<double, 2, 3> slope = shape_gradients(reference);
  Matrix3d stiffness = Matrix3d::Zero();
  for (int point = 0; point < 3; ++point) {  // mid-sides: exact for the quadratic integrand
    Matrix3d varying;
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3;
      const int k = (i + 2) % 3;
      const double at_j = j == point ? 0 : 0.5;
      const double at_k = k == point ? 0 : 0.5;
      const Eigen::Vector2d here = 4 * (at_k * slope.col(j) + at_j * slope.col(k));
      const Eigen::Vector2d mean = 4.0 / 3 * (slope.col(j) + slope.col(k));
      varying.col(i) = bow_strain(reference, i, here - mean);
    }
    stiffness += varying.transpose() * plane_stress * varying;
  }
  return thickness * reference.area / 3 * stiffness;
}

EdgeFrame transport(const EdgeFrame& frame, const Vector3d& new_tangent) {
  const Vector3d turn = frame.tangent.cross(new_tangent);
  const double cosine = frame.tangent.dot(new_tangent);
  Vector3d director =
      cosine * frame.director + turn.cross(frame.director) + turn * (turn.dot(frame.director) / (1 + cosine));
  director -= director.dot(new_tangent) * new_tangent;
  return {new_tangent, director.normalized()};
}

Vector3d mid_side_normal(const EdgeFrame& frame, double turn) {
  return std::cos(turn) * frame.director + std::sin(turn) * frame.tangent.cross(frame.director);
}

}  // namespace halftool::solver
