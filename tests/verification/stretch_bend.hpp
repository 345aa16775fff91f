#pragma once
#include "solver/material/sheet_material.hpp"
#include "tests/verification/borne_contact.hpp"

namespace halftool::test {

/// A strip in plane strain bent over a cylinder under a tension that stays constant: a dead force at its end
/// turns from along the flat strip to along the tail. No friction, no fluid, no normal stress.
struct StretchBend {
  solver::SheetMaterial material;
  double thickness = 1;  ///< [mm]
  double ratio = 10;     ///< radius of the mid-surface over the thickness
  double tension = 0.5;  ///< force over that at which the flat strip begins to flow
  double wrap = 1;       ///< angle on the cylinder [rad]
  double elements = 48;  ///< over 90 degrees of the mid-surface
  int layers = 15;       ///< leave 0.5 % of the moment
  unsigned seed = 3;     ///< of the irregular mesh; 0: regular
};

struct StretchBendResult {
  double thickness = 0;   ///< under load, on the cylinder [mm]
  double curvature = 0;   ///< under load: turn per reference length [1/mm]
  double moment = 0;      ///< under load, per width, conjugate to the turn per reference length [N]
  double springback = 0;  ///< share of that turn which opens when force and tool go in one increment
};

/// Half of the strip by symmetry.
StretchBendResult stretch_bend(const StretchBend& setup);

/// What the tool bears under the bent strip, between two angles from the crown.
BorneContact stretch_bend_contact(const StretchBend& setup, const ArcParts& parts);

/// The same from fibres.
struct FibreStretchBend {
  double moment = 0;      ///< as above
  double springback = 0;  ///< share of the turn that opens when moment and force go
};

/// Fibre integral (fibre_bending) under the force of the setup; stretch-bending as in Marciniak, Duncan and
/// Hu 2002, ch. 6. For a perfectly plastic sheet the moment falls as 1 - tension^2.
FibreStretchBend stretch_bend_fibres(const StretchBend& setup);

}  // namespace halftool::test
