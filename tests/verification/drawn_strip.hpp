#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A strip in plane strain that lies over a half cylinder and is drawn over it: a dead force at its far end,
/// the near end moved along its tail. No fluid.
struct Capstan {
  double radius = 20;                ///< of the cylinder [mm]
  double thickness = 0.1;            ///< [mm]
  double wrap = 1.5707963267948966;  ///< angle of contact [rad], below pi
  double friction = 0.1;
  double elements = 24;  ///< over 90 degrees of it
  unsigned seed = 1;     ///< of the irregular mesh
};

/// Once the whole strip slides.
struct CapstanDraw {
  double ratio = 0;  ///< force at the moved end over the dead force
  /// Means of the pressure on the tool over equal parts of the wrap from the dead force on, the outer two
  /// left out: angle from where contact begins [rad], pressure [MPa], that of the capstan relation [MPa].
  std::vector<Eigen::Vector3d> pressures;
};

/// Elastic strip that is curved as it lies before it is loaded, so that friction alone is at work.
CapstanDraw draw_over(const Capstan& setup);

}  // namespace halftool::test
