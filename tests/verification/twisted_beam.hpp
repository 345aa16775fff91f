#pragma once
#include "mesh/blank.hpp"
#include "solver/assembly/sheet_model.hpp"

namespace halftool::test {

/// Beam of a strip that is twisted by 90 degrees over its length, clamped at one end, unit force at the
/// other, linear. Source: MacNeal and Harder, Finite Elem. Anal. Des. 1 (1985) 3-20: L = 12, width 1.1, t =
/// 0.32, E = 29e6, nu = 0.22; tip displacements, refined: 0.005424535 along the width of the tip, 0.001753248
/// along its thickness; read in files that quote them.
enum class TipForce { along_width, along_thickness };
double twisted_beam_reference(TipForce force);

/// The strip, clamped; divisions x divisions/4 cells of two triangles. Its normals turn along the clamp's
/// edge too, as far as the triangles there do.
/// @param seed  of the irregular mesh; 0: a regular one
solver::SheetModel twisted_beam(int divisions, unsigned seed);

/// Unit force on the free end, spread over its width, (equations).
Eigen::VectorXd tip_load(const solver::SheetModel& beam, TipForce force);

/// Displacement of the tip along the force, mean over its width.
double twisted_beam_displacement(TipForce force, int divisions, unsigned seed);

}  // namespace halftool::test
