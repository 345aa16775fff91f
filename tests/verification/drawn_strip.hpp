#pragma once
#include <Eigen/Core>

#include "solver/material/sheet_material.hpp"
#include "tests/verification/borne_contact.hpp"

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

/// Elastic strip that is curved as it lies before it is loaded, so that friction alone is at work.
/// @return force at the moved end over the dead force, once the whole strip slides
double capstan_ratio(const Capstan& setup);

/// The same strip without friction under the dead force alone: what the tool bears between two angles from
/// the crown.
BorneContact wrap_contact(const Capstan& setup, const ArcParts& parts);

}  // namespace halftool::test
