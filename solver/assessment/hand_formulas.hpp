#pragma once
#include "solver/material/sheet_material.hpp"

// The closed formulas that screens and estimates share. sigma: flow stress [MPa], t: thickness [mm], p:
// pressure [MPa]; S = (2/sqrt 3) sigma is the yield stress of a wide sheet (von Mises, plane strain).

namespace halftool::solver {

/// What presses and what is pressed.
struct ScreenLoad {
  SheetMaterial sheet;
  double thickness = 0;  ///< of the sheet [mm]
  double pressure = 0;   ///< peak [MPa]
};

double first_yield(const ScreenLoad& load);
/// Flow stress at a plastic strain of 0.002 [MPa], the proof stress of a tensile test (ISO 6892-1). Where it
/// is bent noticeably, metal without a yield point bears rather this than its first yield.
double proof_stress(const ScreenLoad& load);
/// Flow stress at an equivalent strain of 0.1 [MPa]: what a sheet has stretched by that fills a corner or is
/// drawn in. Own judgement.
double worked_stress(const ScreenLoad& load);
double plane_strain_yield(double sigma);

/// Pressure that presses a sheet into a hollow of two radii, S t sqrt(1/r1^2 + 1/(r1 r2) + 1/r2^2) [MPa]; r2
/// infinite: an edge, S t/r1. Own arithmetic, see fill_screen.
double fill_pressure(double sigma, double thickness, double r1, double r2);

/// Width from which a sheet sinks into a slot, 2 t sqrt(S/p) [mm] (clamped strip, plastic hinges at rims and
/// middle; own arithmetic).
double sinking_width(double sigma, double thickness, double pressure);
/// Diameter from which it sinks into a hole, t sqrt(11.26 sigma/p) [mm] (clamped plate, p = 11.26 M/R^2 with
/// M = sigma t^2/4: Hopkins and Prager 1953, from memory).
double sinking_diameter(double sigma, double thickness, double pressure);

/// Stress at the root of a wall of height h and thickness b under pressure on one side, 3 p (h/b)^2 [MPa]
/// (cantilever: moment p h^2/2 over b^2/6; own arithmetic).
double wall_root_stress(double pressure, double height, double thickness);
/// Least b/h of such a wall, sqrt(3 p/allowed).
double least_wall_ratio(double pressure, double allowed);
/// Hoop stress at the inner face of a ring, p (k^2 + 1)/(k^2 - 1), k: ratio of its radii (thick cylinder,
/// Lame 1852, from memory).
double ring_hoop_stress(double pressure, double ratio);

/// Pressure at which a flat flange of a length yields over the edge that it hangs out from, S t^2/(2 L^2)
/// (1 + |c| L)/(1 + 2/3 c L) [MPa]: moment p L^2/2 over the plastic moment S t^2/4. Where the edge is round
/// in plan the flange must bend along it, too (1 + |c| L; both moments yield alike), and has more or less
/// area than a straight one (1 + 2/3 c L). Own arithmetic.
/// @param curvature  c of the edge in plan [1/mm], > 0: rounded outward
double fold_pressure(double sigma, double thickness, double length, double curvature = 0);
/// Length of sheet that friction on the tool holds against its own yield, S t/(mu p) [mm]; infinite without
/// friction. Friction of the pad is left out, the cut edge is taken as loaded by the fluid. Own arithmetic.
double locking_length(double sigma, double thickness, double friction, double pressure);

/// Inside radius at which the outer fibre of a bend has a true strain, from ln(1 + t/(2 R + t)) [mm]; 0 where
/// every radius stays below it. The inverse of bend_limit_strain.
double radius_of_fibre_strain(double strain, double thickness);

/// A flange whose bend runs along a circle in plan.
struct CurvedFlange {
  double axis_radius = 0;    ///< of the axis of the edge's rounding in plan [mm]
  bool inward = false;       ///< the flange points to the centre, it stretches
  double overhang = 0;       ///< of the flat sheet beyond that axis [mm]
  double middle_radius = 0;  ///< of the sheet's middle in the bend, R + t/2 [mm]
  double turn = 0;           ///< of the bend [rad]
};
/// Straight part of a flange beyond its bend, L - R_mid turn [mm]; below zero: the bend is not wrapped.
double flange_leg(double overhang, double middle_radius, double turn);
/// Radii of the cut edge in plan [mm], of the flat sheet and folded: the axis radius less (inward) or plus
/// the overhang, or what of it still reaches out, R_mid sin(turn) + leg cos(turn).
struct EdgeRadii {
  double flat = 0, formed = 0;
};
EdgeRadii flange_edge_radii(const CurvedFlange& flange);
/// True strain along the cut edge, ln(radius formed/radius flat): the edge goes round on its circle and the
/// flange keeps its length. An upper bound: the web gives way. Own arithmetic; stretched edges have
/// (h/(R - h)) by the same reasoning, shrunk ones -h/(R + h). Not a number where the flat edge would lie
/// beyond the centre.
double flange_edge_strain(const CurvedFlange& flange);
/// Strain of the edge at which a shrink flange waves while elastic, k pi^2/(12 (1 - nu^2)) (t/h)^2 with k =
/// 0.43 (long plate, one side hinged, one free; Timoshenko and Gere 1961, from memory).
double edge_waving_strain(double poissons_ratio, double thickness, double height);

}  // namespace halftool::solver
