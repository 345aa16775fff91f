#include "mesh/placement.hpp"

#include <numbers>

namespace halftool::mesh {

Eigen::AngleAxisd upright(PressAxis press_axis) {
  constexpr double quarter = std::numbers::pi / 2;
  switch (press_axis) {
    case PressAxis::minus_z:
      return {2 * quarter, Eigen::Vector3d::UnitX()};
    case PressAxis::plus_x:
      return {-quarter, Eigen::Vector3d::UnitY()};
    case PressAxis::minus_x:
      return {quarter, Eigen::Vector3d::UnitY()};
    case PressAxis::plus_y:
      return {quarter, Eigen::Vector3d::UnitX()};
    case PressAxis::minus_y:
      return {-quarter, Eigen::Vector3d::UnitX()};
    default:
      return {0, Eigen::Vector3d::UnitZ()};
  }
}

}  // namespace halftool::mesh
