#pragma once
#include <Eigen/Core>
#include <Eigen/Geometry>

namespace halftool::mesh {

/// The direction in a file's own frame that points up to the fluid.
enum class PressAxis { plus_z, minus_z, plus_x, minus_x, plus_y, minus_y };

/// How a shape from a file is stood on the tray: first its press axis is turned up, then it turns about z,
/// then it is shifted.
struct Placement {
  PressAxis press_axis = PressAxis::plus_z;
  double turn = 0;                                  ///< about z [rad]
  Eigen::Vector3d place = Eigen::Vector3d::Zero();  ///< shift of the file's origin [mm]
};

/// The rotation that takes the press axis to +z: a quarter turn about the file's y axis for +-x, about its x
/// axis for +-y, half a turn about its x axis for -z. The axis of the turn stays where it is.
Eigen::AngleAxisd upright(PressAxis press_axis);

}  // namespace halftool::mesh
