#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A clamped round membrane bulged by pressure: equilibrium of a shell of revolution without bending, von
/// Mises, finite strain, total-strain (Hencky) law without elasticity. Independent of the shell: ordinary
/// differential equations along the meridian, shooting on the pressure (method: Hill 1950, Chakrabarty 1987,
/// from memory; numbers computed here).
struct MembraneBulge {
  double pole_strain = 0;                ///< -ln(t/t0)
  double pressure = 0;                   ///< p a/(K t0)
  double height = 0;                     ///< over a
  std::vector<Eigen::Vector2d> profile;  ///< r0/a, -ln(t/t0), from the pole to the rim
};

/// @param pole_strain  -ln(t/t0) at the pole; below that at which the total-strain law stops being elliptic
///                     (0.53 at n = 0.2)
MembraneBulge bulge_membrane(const solver::SwiftHardening& law, double pole_strain);

}  // namespace halftool::test
