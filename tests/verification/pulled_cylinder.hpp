#pragma once
#include "tests/verification/load_curve.hpp"

namespace halftool::test {

/// Cylinder with free ends pulled by two opposite forces at the middle of its length.
/// Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.5; read from public
/// reference data files that quote the paper. R = 4.953, length 10.35, h = 0.094, E = 10.5e6, nu = 0.3125,
/// greatest force 40 000. Displacements: under the force, outwards (A); inwards a quarter round at the middle
/// (B) and at the end (C). Mesh: an octant, divisions by divisions cells of two triangles.
CurveProblem pulled_cylinder();

/// Whether a share of the load is near the snap of the table, where small errors of the load move much.
bool near_snap(double share);

/// Share of the load at which the displacement at B passes half the way between the table's rows beside the
/// snap.
double snap_share(const MeshChoice& choice);

}  // namespace halftool::test
