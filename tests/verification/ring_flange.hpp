#pragma once
#include <string>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A sheet whose edge is folded over the round edge of a tool half by fluid pressure: the rim of a hole, the
/// rim of a disc, or a sector of either with two free ends.
struct RingFlange {
  solver::SheetMaterial material;
  double thickness = 1.2;            ///< [mm]
  double axis_radius = 33.2;         ///< of the rounding's axis in plan [mm]
  double edge_radius = 3.2;          ///< of the rounding [mm]
  double turn = 1.5707963267948966;  ///< of the bend [rad]
  bool inward = true;                ///< stretch flange; else shrink flange
  double overhang = 9.2;             ///< of the flat sheet beyond the axis [mm]
  double web = 20;                   ///< of the sheet on the other side of the axis [mm]
  double half_sector = 0;            ///< angle from the middle to a free end [rad]; 0: closed ring
  double pressure = 60;              ///< peak [MPa]
  double friction = 0;               ///< on the tool
  bool normal_stress = true;         ///< let the pressures on both faces into the metal
  bool edges_loaded = true;          ///< let the fluid press on the cut edges
  double elements_per_bend = 6;      ///< over 90 degrees
};

mesh::ToolSurface flange_tool(const RingFlange& setup);
/// A quarter of the closed ring, half of the sector. Meshed as the program meshes blanks.
mesh::Blank flange_sheet(const RingFlange& setup, const mesh::ToolSurface& tool);
/// Radius of the flange's edge in the flat sheet [mm].
double flat_edge_radius(const RingFlange& setup);

/// One edge of the mesh on the flange's edge.
struct RingEdgePoint {
  double angle = 0;             ///< from the x axis [rad]
  double strain = 0;            ///< true, along the edge, mid-surface
  double thickness_strain = 0;  ///< ln(t/t0) in the triangle at the edge
};

/// The edge after pressing, mean over it; of a sector over the half of it that is far from the ends.
struct RingEdge {
  double strain = 0;                       ///< true, along the edge, mid-surface
  double thickness_strain = 0;             ///< ln(t/t0) in the triangles at the edge
  double contact_pressure = 0;             ///< of the tool on the triangles at the edge [MPa]
  double radius = 0;                       ///< [mm]
  double drop = 0;                         ///< below the level web, mid-surface [mm]
  double scatter = 0;                      ///< root mean square of the edge strain about its mean
  std::vector<RingEdgePoint> along;        ///< by rising angle
  double highest_wave = 0, wave_left = 0;  ///< crest over its valleys [mm], see solver::EdgeTrace
  double wave_pressure = 0;                ///< at which the highest stood [MPa]
  int waves = 0;                           ///< where it stood
  int triangles = 0, iterations = 0;
  bool rests = true;       ///< no doubts
  std::string broken_off;  ///< why the pressing found no end; empty: it did
};

RingEdge press_ring(const RingFlange& setup);

/// Mean of thickness strain over strain along the edge, within 8 degrees of an angle.
double thickness_ratio_at(const RingEdge& edge, double angle);

/// ln(R/R0) of the edge with the flange at its full length on the wall and the web at rest: mid-surface half
/// a thickness off the tool, no strain along the flange. Own arithmetic.
double edge_strain_by_hand(const RingFlange& setup);

/// The same of a flange on an upright wall, with the thickness that uniaxial stress along the edge leaves, t0
/// (R/R0)^(-1/(1 + r)) of an isotropic sheet: the mid-surface lies half of it off the wall. Own arithmetic.
double edge_strain_on_wall(const RingFlange& setup);

}  // namespace halftool::test
