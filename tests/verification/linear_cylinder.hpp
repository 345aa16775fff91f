#pragma once

namespace halftool::test {

/// Cylinder on rigid end diaphragms, pinched by two opposite point forces at its middle, linear.
/// Source: Lindberg, Olson and Cowper 1969, series of thin-shell theory: w = 164.24 P/(E t) under the force
/// for R/t = 100, L/R = 2, nu = 0.3; read in files that quote it. Data of Belytschko and others, CMAME 51
/// (1985) 221-258: E = 3e6, R = 300, t = 3, P = 1.
inline constexpr double kPinchedCylinderDeflection = 164.24 / (3e6 * 3);

/// Deflection under the force, inwards: an eighth of the cylinder, divisions x divisions cells of two
/// triangles.
/// @param seed  of the irregular mesh; 0: a regular one
double pinched_cylinder_deflection(int divisions, unsigned seed);

}  // namespace halftool::test
