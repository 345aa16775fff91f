#include <Eigen/Geometry>

#include "solver/kinematics/shell_triangle.hpp"
#include "solver/kinematics/triangle_rise.hpp"

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using NodeVector = Eigen::Matrix<double, 9, 1>;

// A quadratic surface through the nodes stands 4/9 of the sum of its sagittas above the centroid, and the
// sagitta of an edge vector E is -1/8 E^T k E: these are the factors of [k11, k22, 2 k12].
Vector3d height_factors(const TriangleReference& reference) {
  Vector3d sum = Vector3d::Zero();
  for (int i = 0; i < 3; ++i) {
    const Eigen::Vector2d e = reference.corner.col((i + 2) % 3) - reference.corner.col((i + 1) % 3);
    sum += Vector3d(e.x() * e.x(), e.y() * e.y(), e.x() * e.y());
  }
  return -sum / 18;
}

// In terms of the edges' rises h_l initial_turn_l the height is -2/9 of their sum.
constexpr double kHeightOfRises = -2.0 / 9;

double reference_height(const TriangleReference& reference) {
  return kHeightOfRises * reference.height.dot(reference.initial_turn);
}

// d (f . n) / d positions for a constant f.
NodeVector normal_gradient(const Vector3d& normal, const Matrix3d& barycentric, const Vector3d& f) {
  NodeVector gradient;
  for (int a = 0; a < 3; ++a) gradient.segment<3>(3 * a) = -barycentric.col(a).dot(f) * normal;
  return gradient;
}

// Second derivative of (f . n) with respect to the positions of nodes a and c.
Matrix3d normal_hessian(const Vector3d& normal, const Matrix3d& barycentric, const Vector3d& f, int a,
                        int c) {
  const Vector3d& b_a = barycentric.col(a);
  const Vector3d& b_c = barycentric.col(c);
  return normal * (b_c.dot(f) * b_a - (normal.dot(f) * b_a.dot(b_c)) * normal).transpose() +
         b_a.dot(f) * b_c * normal.transpose();
}

}  // namespace

MiddlePoint middle_point(const TriangleReference& reference, const TriangleState& state,
                         const TriangleStrain& strain) {
  const Matrix3d& x = state.positions;
  const Vector3d area_vector = (x.col(1) - x.col(0)).cross(x.col(2) - x.col(0));
  const double twice_area = area_vector.norm();
  const Vector3d normal = area_vector / twice_area;
  const Vector3d factors = height_factors(reference);
  MiddlePoint middle;
  middle.height = factors.dot(strain.value.tail<3>()) + reference_height(reference);
  middle.position = x.rowwise().mean() + middle.height * normal;
  middle.gradient = normal * (factors.transpose() * strain.gradient.bottomRows<3>());
  for (int a = 0; a < 3; ++a) {  // the normal turns: dn = -(n . dx_a) grad(barycentric a)
    const Vector3d barycentric = normal.cross(x.col((a + 2) % 3) - x.col((a + 1) % 3)) / twice_area;
    middle.gradient.block<3, 3>(0, 3 * a) += Vector3d::Constant(1.0 / 3).asDiagonal();
    middle.gradient.block<3, 3>(0, 3 * a) -= (middle.height * barycentric) * normal.transpose();
  }
  return middle;
}

TriangleMatrix middle_force_stiffness(const TriangleReference& reference, const TriangleState& state,
                                      const TriangleStrain& strain, const Vector3d& force) {
  const CurrentTriangle current = current_triangle(reference.sign, state);
  const Matrix3d barycentric = barycentric_gradients(current);
  const Vector3d factors = height_factors(reference);
  const double height = factors.dot(strain.value.tail<3>()) + reference_height(reference);
  const Eigen::Matrix<double, 1, kTriangleUnknowns> rising =
      factors.transpose() * strain.gradient.bottomRows<3>();

  TriangleMatrix stiffness = TriangleMatrix::Zero();
  stiffness.topLeftCorner<kRiseUnknowns, kRiseUnknowns>() =
      rise_hessian(current, Vector3d::Constant(kHeightOfRises * force.dot(current.normal)));
  const Eigen::Matrix<double, 9, kTriangleUnknowns> mixed =
      normal_gradient(current.normal, barycentric, force) * rising;
  stiffness.topRows<9>() += mixed;
  stiffness.leftCols<9>() += mixed.transpose();
  for (int a = 0; a < 3; ++a)
    for (int c = 0; c < 3; ++c)
      stiffness.block<3, 3>(3 * a, 3 * c) +=
          normal_hessian(current.normal, barycentric, height * force, a, c);
  return stiffness;
}

}  // namespace halftool::solver
