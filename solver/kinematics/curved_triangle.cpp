#include <Eigen/Geometry>

#include "solver/kinematics/shell_triangle.hpp"
#include "solver/kinematics/triangle_rise.hpp"

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using NodeVector = Eigen::Matrix<double, 9, 1>;

Matrix3d cross_matrix(const Vector3d& v) {
  Matrix3d m;
  m << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
  return m;
}

// Sagitta of edge i is -1/8 E^T k E with the reference edge vector E: these are the factors of [k11, k22, 2
// k12].
Vector3d sagitta_factors(const TriangleReference& reference, int edge) {
  const Eigen::Vector2d e = reference.corner.col((edge + 2) % 3) - reference.corner.col((edge + 1) % 3);
  return -0.125 * Vector3d(e.x() * e.x(), e.y() * e.y(), e.x() * e.y());
}

// E^T (nu_l nu_l^T) E is h_l^2 on the two other edges, so the reference's own curvature gives -h_l
// initial_turn_l/4.
double reference_sagitta(const TriangleReference& reference, int edge) {
  const Vector3d rise = reference.height.cwiseProduct(reference.initial_turn);
  return -0.25 * (rise.sum() - rise(edge));
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

// Second derivative of the flat triangle's area over that area.
Matrix3d area_hessian(const Vector3d& normal, const Matrix3d& barycentric, int a, int c) {
  const Vector3d& b_a = barycentric.col(a);
  const Vector3d& b_c = barycentric.col(c);
  return b_a * b_c.transpose() - b_c * b_a.transpose() + (b_a.dot(b_c) * normal) * normal.transpose();
}

}  // namespace

MidSidePoints mid_side_points(const TriangleReference& reference, const TriangleState& state,
                              const TriangleStrain& strain) {
  const Matrix3d& x = state.positions;
  const Vector3d area_vector = (x.col(1) - x.col(0)).cross(x.col(2) - x.col(0));
  const double twice_area = area_vector.norm();
  const Vector3d normal = area_vector / twice_area;
  MidSidePoints mid;
  for (int i = 0; i < 3; ++i) {
    const int j = (i + 1) % 3;
    const int k = (i + 2) % 3;
    const Vector3d factors = sagitta_factors(reference, i);
    const double sagitta = factors.dot(strain.value.tail<3>()) + reference_sagitta(reference, i);
    mid.sagitta(i) = sagitta;
    mid.points.col(i) = 0.5 * (x.col(j) + x.col(k)) + sagitta * normal;
    PointGradient& gradient = mid.gradient[static_cast<std::size_t>(i)];
    gradient = normal * (factors.transpose() * strain.gradient.bottomRows<3>());
    gradient.block<3, 3>(0, 3 * j).diagonal().array() += 0.5;
    gradient.block<3, 3>(0, 3 * k).diagonal().array() += 0.5;
    for (int a = 0; a < 3; ++a) {  // the normal turns: dn = -(n . dx_a) grad(barycentric a)
      const Vector3d barycentric = normal.cross(x.col((a + 2) % 3) - x.col((a + 1) % 3)) / twice_area;
      gradient.block<3, 3>(0, 3 * a) -= (sagitta * barycentric) * normal.transpose();
    }
  }
  return mid;
}

TriangleMatrix mid_side_force_stiffness(const TriangleReference& reference, const TriangleState& state,
                                        const TriangleStrain& strain, const Matrix3d& forces) {
  const CurrentTriangle current = current_triangle(reference.sign, state);
  const Matrix3d barycentric = barycentric_gradients(current);
  const Vector3d normal_force = forces.transpose() * current.normal;
  const Vector3d rise_weight = -0.25 * (Vector3d::Constant(normal_force.sum()) - normal_force);
  TriangleMatrix stiffness = TriangleMatrix::Zero();
  stiffness.topLeftCorner<kRiseUnknowns, kRiseUnknowns>() = rise_hessian(current, rise_weight);

  Vector3d on_normal = Vector3d::Zero();  // sum of sagitta times force: conjugate to the unit normal
  for (int i = 0; i < 3; ++i) {
    const Vector3d factors = sagitta_factors(reference, i);
    const double sagitta = factors.dot(strain.value.tail<3>()) + reference_sagitta(reference, i);
    on_normal += sagitta * forces.col(i);
    const Eigen::Matrix<double, 1, kTriangleUnknowns> rising =
        factors.transpose() * strain.gradient.bottomRows<3>();
    const Eigen::Matrix<double, 9, kTriangleUnknowns> mixed =
        normal_gradient(current.normal, barycentric, forces.col(i)) * rising;
    stiffness.topRows<9>() += mixed;
    stiffness.leftCols<9>() += mixed.transpose();
  }
  for (int a = 0; a < 3; ++a)
    for (int c = 0; c < 3; ++c)
      stiffness.block<3, 3>(3 * a, 3 * c) += normal_hessian(current.normal, barycentric, on_normal, a, c);
  return stiffness;
}

TriangleVolume enclosed_volume(const TriangleReference& reference, const TriangleState& state,
                               const TriangleStrain& strain) {
  const CurrentTriangle current = current_triangle(reference.sign, state);
  const Matrix3d barycentric = barycentric_gradients(current);
  const Matrix3d& x = state.positions;
  Vector3d factors = Vector3d::Zero();
  double sagitta = 0;  // mean of the three: the quadratic bulge integrates to area times it
  for (int i = 0; i < 3; ++i) {
    factors += sagitta_factors(reference, i) / 3;
    sagitta += reference_sagitta(reference, i) / 3;
  }
  sagitta += factors.dot(strain.value.tail<3>());

  TriangleVolume volume;
  volume.value = x.col(0).dot(x.col(1).cross(x.col(2))) / 6 + current.area * sagitta;
  volume.gradient = current.area * strain.gradient.bottomRows<3>().transpose() * factors;
  volume.hessian.setZero();
  volume.hessian.topLeftCorner<kRiseUnknowns, kRiseUnknowns>() =
      rise_hessian(current, Vector3d::Constant(-current.area / 6));
  NodeVector stretching;  // d ln(area) / d positions
  for (int a = 0; a < 3; ++a) stretching.segment<3>(3 * a) = barycentric.col(a);
  const Eigen::Matrix<double, 9, kTriangleUnknowns> mixed = stretching * volume.gradient.transpose();
  volume.hessian.topRows<9>() += mixed;
  volume.hessian.leftCols<9>() += mixed.transpose();
  volume.gradient.head<9>() += current.area * sagitta * stretching;
  for (int a = 0; a < 3; ++a) {
    const int b = (a + 1) % 3;
    const int c = (a + 2) % 3;
    volume.gradient.segment<3>(3 * a) += x.col(b).cross(x.col(c)) / 6;
    volume.hessian.block<3, 3>(3 * a, 3 * b) -= cross_matrix(x.col(c)) / 6;
    volume.hessian.block<3, 3>(3 * a, 3 * c) += cross_matrix(x.col(b)) / 6;
    for (int d = 0; d < 3; ++d)
      volume.hessian.block<3, 3>(3 * a, 3 * d) +=
          current.area * sagitta * area_hessian(current.normal, barycentric, a, d);
  }
  return volume;
}

}  // namespace halftool::solver
