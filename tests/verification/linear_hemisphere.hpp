#pragma once

namespace halftool::test {

/// Hemisphere pulled and pushed by two pairs of opposite radial forces at its free equator, linear.
/// Data: MacNeal and Harder, Finite Elem. Anal. Des. 1 (1985) 3-20: R = 10, t = 0.04, E = 6.825e7, nu = 0.3,
/// forces of 2. Displacement under a force: 0.0924 for the closed hemisphere, read in files that quote the
/// paper; 0.0940 with a hole of 18 degrees about the pole, from memory.
inline constexpr double kClosedHemisphere = 0.0924;
inline constexpr double kHoledHemisphere = 0.0940;

/// Mean of the displacements under the two forces of a quarter, along them: a patch of three corners (closed)
/// or four (with the hole), divisions on a side.
/// @param seed  of the irregular mesh; 0: a regular one
double hemisphere_displacement(bool hole, int divisions, unsigned seed);

}  // namespace halftool::test
