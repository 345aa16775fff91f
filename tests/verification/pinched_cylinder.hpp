#pragma once
#include "tests/verification/load_curve.hpp"

namespace halftool::test {

/// Cylinder pinched by two opposite forces at the middle of its length, ends on plates that are rigid in
/// their plane. Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.6; read from
/// public reference data files that quote the paper. R = 100, length 200, h = 1, E = 30e3, nu = 0.3, greatest
/// force 12 000. Displacements: under the force, inwards (A); outwards a quarter round (B). Mesh: an octant,
/// divisions by divisions cells of two triangles.
CurveProblem pinched_cylinder();

}  // namespace halftool::test
