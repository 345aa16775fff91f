#include "solver/kinematics/triangle_rise.hpp"

#include <Eigen/Geometry>
#include <cmath>

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

Matrix3d symmetric_product(const Vector3d& a, const Vector3d& b) {
  const Matrix3d product = a * b.transpose();
  return product + product.transpose();
}

void set_edge(const EdgeFrame& frame, double turn, const Vector3d& edge, const Vector3d& to_apex, int i,
              CurrentTriangle& t) {
  const double length = edge.norm();
  const Vector3d tangent = edge / length;
  const Vector3d outward = tangent.cross(t.normal);
  t.length(i) = length;
  t.tangent.col(i) = tangent;
  t.outward.col(i) = outward;
  t.height(i) = 2 * t.area / length;
  t.foot(i) = to_apex.dot(tangent) / length;

  // The director carried from t0 straight to t spins about t by -(t0 x E) / (|E| (|E| + t0.E)) . dE when the
  // edge vector E changes.
  const Vector3d committed = t.sign(i) * frame.tangent;
  const double one_plus = 1 + committed.dot(tangent);
  t.holonomy.col(i) = committed.cross(tangent) / (length * one_plus);
  t.curl.col(i) = (tangent + (committed + tangent) / one_plus) / length;

  const Vector3d mid_side = mid_side_normal(transport(frame, t.sign(i) * tangent), turn);
  t.turn(i) = std::atan2(-mid_side.dot(outward), mid_side.dot(t.normal));
}

// Blocks of the Hessian of rise i in (a, E). In that of E alone the skew part of the normals' half cancels
// against that of the holonomy.
struct EdgeHessian {
  Matrix3d aa, ae, ee;
};

EdgeHessian edge_hessian(const CurrentTriangle& triangle, int i) {
  const Vector3d& n = triangle.normal;
  const Vector3d nu = triangle.outward.col(i);
  const Vector3d along = triangle.tangent.col(i) / triangle.length(i);
  const Vector3d hol = triangle.holonomy.col(i);
  const Vector3d v = n - triangle.turn(i) * nu;
  const double f = triangle.foot(i);
  const double height = triangle.height(i);
  const double lift = 0.5 * height / (triangle.length(i) * triangle.length(i));
  EdgeHessian h;
  h.aa = (triangle.turn(i) / height * n) * n.transpose();
  h.ae = -along * v.transpose() - nu * hol.transpose() - f * h.aa;
  h.ee = f * f * h.aa + symmetric_product(f * along + lift * nu, v) +
         symmetric_product(f * nu - 0.5 * height * triangle.curl.col(i), hol);
  return h;
}

}  // namespace

CurrentTriangle current_triangle(const Eigen::Vector3d& sign, const TriangleState& state) {
  CurrentTriangle t;
  t.sign = sign;
  const Matrix3d& x = state.positions;
  const Vector3d area_vector = (x.col(1) - x.col(0)).cross(x.col(2) - x.col(0));
  const double twice_area = area_vector.norm();
  t.area = 0.5 * twice_area;
  t.normal = area_vector / twice_area;
  for (int i = 0; i < 3; ++i) {
    const int tail = (i + 1) % 3;
    const int head = (i + 2) % 3;
    set_edge(state.frames[static_cast<std::size_t>(i)], state.turn(i), x.col(head) - x.col(tail),
             x.col(i) - x.col(tail), i, t);
  }
  return t;
}

Eigen::Matrix3d barycentric_gradients(const CurrentTriangle& triangle) {
  Matrix3d gradients;
  for (int i = 0; i < 3; ++i) gradients.col(i) = -triangle.outward.col(i) / triangle.height(i);
  return gradients;
}

// In the vectors a (tail to apex) and E (tail to head), with foot f and v = n - beta nu:
// d rise = v . da + (H holonomy - f v) . dE - sign H dphi.
Eigen::Matrix<double, kRiseUnknowns, 3> rise_gradients(const CurrentTriangle& triangle) {
  Eigen::Matrix<double, kRiseUnknowns, 3> gradients = Eigen::Matrix<double, kRiseUnknowns, 3>::Zero();
  for (int i = 0; i < 3; ++i) {
    const Vector3d apex = triangle.normal - triangle.turn(i) * triangle.outward.col(i);
    const Vector3d head = triangle.height(i) * triangle.holonomy.col(i) - triangle.foot(i) * apex;
    gradients.block<3, 1>(3 * i, i) = apex;
    gradients.block<3, 1>(3 * ((i + 2) % 3), i) = head;
    gradients.block<3, 1>(3 * ((i + 1) % 3), i) = -apex - head;
    gradients(9 + i, i) = -triangle.sign(i) * triangle.height(i);
  }
  return gradients;
}

RiseMatrix rise_hessian(const CurrentTriangle& triangle, const Eigen::Vector3d& weight) {
  RiseMatrix hessian = RiseMatrix::Zero();
  for (int i = 0; i < 3; ++i) {
    const EdgeHessian h = edge_hessian(triangle, i);
    const double c = weight(i);
    const Matrix3d apex_tail = -c * (h.aa + h.ae);
    const Matrix3d head_tail = -c * (h.ae.transpose() + h.ee);
    const int apex = 3 * i;
    const int tail = 3 * ((i + 1) % 3);
    const int head = 3 * ((i + 2) % 3);
    hessian.block<3, 3>(apex, apex) += c * h.aa;
    hessian.block<3, 3>(apex, head) += c * h.ae;
    hessian.block<3, 3>(head, apex) += c * h.ae.transpose();
    hessian.block<3, 3>(head, head) += c * h.ee;
    hessian.block<3, 3>(apex, tail) += apex_tail;
    hessian.block<3, 3>(tail, apex) += apex_tail.transpose();
    hessian.block<3, 3>(head, tail) += head_tail;
    hessian.block<3, 3>(tail, head) += head_tail.transpose();
    hessian.block<3, 3>(tail, tail) -= apex_tail + head_tail;

    const Vector3d by_turn = (c * triangle.sign(i)) * triangle.outward.col(i);
    const double foot = triangle.foot(i);
    hessian.block<3, 1>(apex, 9 + i) += by_turn;
    hessian.block<3, 1>(head, 9 + i) -= foot * by_turn;
    hessian.block<3, 1>(tail, 9 + i) -= (1 - foot) * by_turn;
  }
  hessian.block<3, 9>(9, 0) = hessian.block<9, 3>(0, 9).transpose();
  return hessian;
}

}  // namespace halftool::solver
