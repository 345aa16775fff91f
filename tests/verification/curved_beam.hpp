#pragma once

namespace halftool::test {

/// Flat quarter ring, clamped at one end, unit force at the other, linear.
/// Data: MacNeal and Harder, Finite Elem. Anal. Des. 1 (1985) 3-20: radii 4.12 and 4.32, t = 0.1, E = 1e7, nu
/// = 0.25. Their tip displacements, of beam theory: 0.08734 in the plane, 0.5022 out of it; from memory.
enum class RingForce { in_plane, out_of_plane };
double curved_beam_handbook(RingForce force);

/// What a thin plate tends to. In the plane: plane stress, closed form for a curved bar under a radial end
/// force (Timoshenko and Goodier, Theory of Elasticity, 3rd ed., art. 33; from memory). Out of it: curved
/// beam with the torsional stiffness G b t^3 / 3 of a Kirchhoff plate strip, where a bar of this section,
/// only twice as wide as thick, has 0.229 G b t^3.
double curved_beam_reference(RingForce force);

/// Displacement of the tip along the force, mean over its width; divisions x divisions/8 cells of two
/// triangles.
/// @param seed  of the irregular mesh; 0: a regular one
double curved_beam_displacement(RingForce force, int divisions, unsigned seed);

}  // namespace halftool::test
