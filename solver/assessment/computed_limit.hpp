#pragma once
#include "solver/assessment/forming_limit.hpp"
#include "solver/assessment/groove.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// Limits of straight paths from a tenth in the ratio beyond uniaxial tension to equibiaxial tension, each
/// the lowest of all first angles of the groove and of major strain along and across rolling. A metal that
/// hardens kinematically is taken with isotropic hardening of the same tensile test, which on a straight path
/// is the same in the sheet and no more than near it in the groove. The sheet's rate sensitivity m acts
/// between groove and sheet, whose strain rates differ; one below 0 is taken as none: such a metal flows in
/// bands, which no groove follows.
/// @param imperfection     > 0, < 0.5
/// @param fineness         of steps: 2 halves them
/// @param normal_pressure  [MPa], see groove_limit; from 0 to most_normal_pressure
/// @throws std::invalid_argument  a constant out of range
/// @throws std::runtime_error     no groove of a path finds its balance
ComputedLimit computed_limit(const SheetMaterial& material, double imperfection, double fineness = 1,
                             double normal_pressure = 0);

/// That curve at plane strain alone, where it judges hardest: quick.
/// @throws std::invalid_argument  a constant out of range
/// @throws std::runtime_error     no groove finds its balance
double computed_plane_strain(const SheetMaterial& material, double imperfection);

/// Up to where a groove is followed under a normal pressure [MPa], the stress at 0.2 % of plastic strain:
/// beyond it the pressure alone makes the sheet flow while the groove rests.
double most_normal_pressure(const SheetMaterial& material);

/// The metal of the grooves.
/// @throws std::invalid_argument  a constant out of range
GrooveMetal groove_metal(const SheetMaterial& material, double normal_pressure = 0);

/// Limit major strain of one straight path. @param ratio  minor over major strain, above -1, at most 1
double path_limit(const GrooveMetal& metal, double ratio, double along, double imperfection,
                  double fineness = 1);

}  // namespace halftool::solver
