#pragma once
#include <Eigen/Core>

#include "mesh/blank.hpp"

namespace halftool::solver {

/// Force of a locating pin on a point of a hole's rim: none while the rim stands clear of the pin, else along
/// the line from the pin's axis, in the plane across the press axis; the sheet is free along the axis.
struct PinForce {
  Eigen::Vector2d force = Eigen::Vector2d::Zero();      ///< [N], away from the pin's axis
  Eigen::Matrix2d stiffness = Eigen::Matrix2d::Zero();  ///< -d force / d x [N/mm]
};

/// @param x          the point, in the plane [mm]
/// @param stiffness  force per depth in the pin [N/mm]
PinForce pin_force(const mesh::Pin& pin, const Eigen::Vector2d& x, double stiffness);

}  // namespace halftool::solver
