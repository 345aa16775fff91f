#pragma once
#include <Eigen/Geometry>
#include <random>

#include "solver/kinematics/shell_triangle.hpp"

namespace halftool::test {

/// A random triangle of size about 1 with an undeformed and a strongly deformed state.
struct TriangleSample {
  solver::TriangleReference reference;
  solver::TriangleState undeformed;
  solver::TriangleState state;
};

class TriangleSampler {
 public:
  explicit TriangleSampler(unsigned seed) : generator_(seed) {}

  double uniform(double half_width) {
    return std::uniform_real_distribution<double>(-half_width, half_width)(generator_);
  }
  template <int Rows, int Columns>
  Eigen::Matrix<double, Rows, Columns> matrix(double half_width) {
    return Eigen::Matrix<double, Rows, Columns>::NullaryExpr([&] { return uniform(half_width); });
  }
  Eigen::Vector3d vector(double half_width) { return matrix<3, 1>(half_width); }
  Eigen::Matrix3d rotation() {
    return Eigen::Quaterniond(Eigen::Vector4d(normal(), normal(), normal(), normal()).normalized())
        .toRotationMatrix();
  }

  /// Curved reference in a random place, then nodes moved by 30 percent of the size, edges by up to 0.5 rad.
  TriangleSample sample() {
    TriangleSample s;
    Eigen::Matrix3d flat;
    flat << 0, 1, 0.3, 0, 0.1, 0.9, 0, 0, 0;
    flat.topRows<2>() += matrix<2, 3>(0.2);
    s.undeformed.positions = rotation() * flat;
    const Eigen::Vector3d sign = Eigen::Vector3d::NullaryExpr([this] { return uniform(1) > 0 ? 1.0 : -1.0; });
    set_frames(sign, s.undeformed);
    s.undeformed.turn = vector(0.4);
    s.undeformed.bow.setZero();
    s.reference = solver::make_reference(s.undeformed.positions, vector(1), sign, s.undeformed);
    s.state = s.undeformed;
    s.state.positions += matrix<3, 3>(0.3);
    s.state.turn += vector(0.5);
    s.state.bow = vector(0.05);
    return s;
  }

  /// Frames along the edges, directors normal to the triangle.
  static void set_frames(const Eigen::Vector3d& sign, solver::TriangleState& state) {
    const Eigen::Matrix3d& x = state.positions;
    const Eigen::Vector3d n = (x.col(1) - x.col(0)).cross(x.col(2) - x.col(0)).normalized();
    for (int i = 0; i < 3; ++i) {
      const Eigen::Vector3d edge = x.col((i + 2) % 3) - x.col((i + 1) % 3);
      state.frames[i] = {sign(i) * edge.normalized(), n};
    }
  }

 private:
  double normal() { return std::normal_distribution<double>()(generator_); }
  std::mt19937 generator_;
};

/// The same state after acceptance: every frame carried to the current edges.
inline solver::TriangleState accepted(solver::TriangleState state, const Eigen::Vector3d& sign) {
  for (int i = 0; i < 3; ++i) {
    const Eigen::Vector3d edge = state.positions.col((i + 2) % 3) - state.positions.col((i + 1) % 3);
    state.frames[i] = solver::transport(state.frames[i], sign(i) * edge.normalized());
  }
  return state;
}

inline solver::TriangleVector unknowns(const solver::TriangleState& state) {
  solver::TriangleVector u;
  u << state.positions.reshaped(), state.turn, state.bow;
  return u;
}
/// The same frames with other unknowns.
inline solver::TriangleState with_unknowns(solver::TriangleState state, const Eigen::VectorXd& u) {
  state.positions = u.head<9>().reshaped(3, 3);
  state.turn = u.segment<3>(9);
  state.bow = u.tail<3>();
  return state;
}

}  // namespace halftool::test
