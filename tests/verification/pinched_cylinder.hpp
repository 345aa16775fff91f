#pragma once
#include "tests/verification/load_curve.hpp"

namespace halftool::test {

/// Cylinder pinched by two opposite forces at the middle of its length, ends on plates that are rigid in
/// their plane. Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.6; read from
/// public reference data files that quote the paper. R = 100, length 200, h = 1, E = 30e3, nu = 0.3, greatest
/// force 12 000. Displacements: under the force, inwards (A); outwards a quarter round (B). Mesh: an octant,
/// divisions by divisions cells of two triangles.
/// @param most_share  rows of the table up to here. Coarse meshes and irregular ones of 64 divisions snap,
/// row of elements by row of elements, before the dent reaches the plates at 0.15; the sheet is led by the
/// force's point, which then turns back.
CurveProblem pinched_cylinder(double most_share = 1);

/// Whether a share of the load is near the standstill of the table, where small errors of the load move much.
bool near_standstill(double share);

}  // namespace halftool::test
