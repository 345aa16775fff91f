#pragma once
#include <optional>

#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// Share of a bend's turn that opens when a wide sheet is let go.
struct BendSpringback {
  double share = 0;          ///< of the turn
  double low = 0, high = 0;  ///< the same for a sheet weaker and stronger by the scatter of the strength
  double moment = 0;         ///< that bends it, per width [N]
};

/// Scatter of the strength that a band is drawn for where the case states none: 8 percent either way, from
/// coil to coil. Own judgement.
constexpr double usual_strength_scatter = 0.08;

/// A section of the sheet (SectionBend, the case's own yield and hardening) bent in plane strain without
/// tension or pressure, and let go. Own arithmetic; a sheet that does not harden agrees with Gardiner (1957),
/// tests/verification/wide_bending. Pressure, friction and the way back of a flange that was bent too far
/// are left out.
/// @param radius   of the mid-surface [mm]
/// @param scatter  of the strength, either way
/// @return nothing where the section finds no balance
std::optional<BendSpringback> bend_springback(const SheetMaterial& sheet, double thickness, double radius,
                                              double scatter = usual_strength_scatter);

}  // namespace halftool::solver
