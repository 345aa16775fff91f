#pragma once
#include <array>
#include <vector>

namespace halftool::test {

/// Cantilever under a dead shear force at its end.
/// Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.1, table of tip
/// displacements; read from public reference data files that quote the paper. L = 10, b = 1, h = 0.1, E
/// = 1.2e6, nu = 0, greatest force 4, so that P L^2 / E I = 4.
inline constexpr double kCantileverLength = 10;
inline constexpr double kCantileverForce = 4;  // on the width 1

struct CantileverTip {
  double share;       ///< of the greatest force
  double shortening;  ///< of the tip, along the axis
  double deflection;  ///< along the force
};

extern const std::array<CantileverTip, 20> kCantileverTable;

/// The tip at the loads of the table; divisions x divisions/8 cells of two triangles.
/// @param seed  of the irregular mesh; 0: a regular one
std::vector<CantileverTip> bend_cantilever(int divisions, unsigned seed);

/// Largest miss over the table. It has three decimals: half of the last one is not a miss. What is beyond it,
/// over the table's value.
double worst_miss(const std::vector<CantileverTip>& tips);

/// Tip deflection over length of the elastica without extension under a dead end force P L^2 / E I (Bisshopp
/// and Drucker, Q. Appl. Math. 3 (1945) 272-275).
double elastica_deflection(double load);

}  // namespace halftool::test
