#pragma once
#include "tests/verification/load_curve.hpp"

namespace halftool::test {

/// Slit annular plate lifted by a line load along one edge of the slit, the other clamped.
/// Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.3, table of the lifts of
/// the edge's ends; read from public reference data files that quote the paper. Radii 6 and 10, h = 0.03, E =
/// 21e6, nu = 0, greatest line load 0.8 per length. Displacements: inner end, outer end. Mesh: divisions
/// along the radius by 12 times as many around, cells of two triangles.
CurveProblem slit_ring();

}  // namespace halftool::test
