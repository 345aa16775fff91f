#pragma once
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A sheet in plane strain pressed into a 90 degree groove without friction, its rim held on the land beside
/// it. The fluid draws it into the corner, where it stays free with a radius that falls as the pressure
/// rises.
struct CornerFill {
  double thickness = 1;      ///< [mm]
  double half_width = 20;    ///< of the groove [mm]
  double lip_radius = 8;     ///< between wall and land [mm]
  double pressure = 150;     ///< peak [MPa]
  double edge_length = 0.5;  ///< [mm]
  unsigned seed = 3;         ///< of the irregular mesh
  bool normal_stress = true;
  double smallest_pad_radius = 0;  ///< see solver::pad_share [mm]
};

struct CornerState {
  double pressure = 0;   ///< [MPa]
  double radius = 0;     ///< of the free mid-surface in the corner, circle fit [mm]
  double thickness = 0;  ///< mean there [mm]
  double yield = 0;      ///< plane-strain flow stress S at the mean plastic strain there [MPa]
  double thinnest = 0;   ///< over the mean thickness of the free part
  double wall = 0;       ///< S times thickness, mean over the middle of the wall [N/mm]
};

/// Metal: invented, hardens enough to stretch without a neck.
solver::SheetMaterial corner_metal();

struct CornerPath {
  std::vector<CornerState> states;  ///< with pressure rising
  std::string broken_off;           ///< why the pressing or its dwell found no end; empty: it did
};

CornerPath fill_corner(const CornerFill& setup);

/// Pressure that a free cylinder of mid-surface radius r bears: S ln((r + t/2)/(r - t/2)) in the solid (thick
/// cylinder, rigid-plastic; Hill 1950), S t/r in the membrane.
double solid_pressure(const CornerState& state);
double membrane_pressure(const CornerState& state);

/// The membrane with the fluid on its smaller inner face: S t/(r - t/2).
double inner_face_pressure(const CornerState& state);

/// The same where the wall flows before the corner does. Without friction the force N along the sheet is one.
/// The wall stands between fluid and tool, both at p, and flows at N = (S - p) t; the corner, free on the
/// tool's side, bears more, and the fluid on its inner face asks for N = p (r - t/2): p = S t/(r + t/2), S
/// and t of the wall.
double wall_pressure(const CornerState& state);

}  // namespace halftool::test
