#pragma once
#include "tests/verification/load_curve.hpp"

namespace halftool::test {

/// Hemisphere with a hole of 18 degrees at its pole, pulled and pinched by two pairs of forces at its free
/// rim. Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.4, table of the
/// displacements under the forces; read from public reference data files that quote the paper. R = 10, h =
/// 0.04, E = 6.825e7, nu = 0.3, greatest force 400. Displacements: outward force, inward force. Mesh: a
/// quarter, divisions by divisions cells of two triangles.
CurveProblem pinched_hemisphere();

}  // namespace halftool::test
