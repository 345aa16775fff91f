#pragma once

namespace halftool::test {

/// Cylindrical roof on rigid end diaphragms under its own weight (Scordelis and Lo 1964), linear.
/// Data: MacNeal and Harder, Finite Elem. Anal. Des. 1 (1985) 3-20, and Belytschko and others, CMAME 51
/// (1985) 221-258: L = 50, R = 25, half angle 40 degrees, t = 0.25, E = 4.32e8, nu = 0, 90 per area; read in
/// files that quote them. Deflection of the middle of the free edge: 0.3006 where shells without transverse
/// shear converge to, 0.3024 in MacNeal and Harder.
inline constexpr double kRoofDeflection = 0.3006;
inline constexpr double kRoofDeflectionWithShear = 0.3024;

/// Deflection of the middle of the free edge, downwards: a quarter of the roof, divisions x divisions cells
/// of two triangles.
/// @param seed  of the irregular mesh; 0: a regular one
double roof_deflection(int divisions, unsigned seed);

}  // namespace halftool::test
