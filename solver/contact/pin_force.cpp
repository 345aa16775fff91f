#include "solver/contact/pin_force.hpp"

namespace halftool::solver {

PinForce pin_force(const mesh::Pin& pin, const Eigen::Vector2d& x, double stiffness) {
  PinForce out;
  const Eigen::Vector2d arm = x - pin.centre;
  const double distance = arm.norm();
  const double depth = pin.radius - distance;
  if (depth <= 0 || distance == 0) return out;
  const Eigen::Vector2d away = arm / distance;
  out.force = stiffness * depth * away;
  out.stiffness = stiffness * (away * away.transpose() -
                               depth / distance * (Eigen::Matrix2d::Identity() - away * away.transpose()));
  return out;
}

}  // namespace halftool::solver
