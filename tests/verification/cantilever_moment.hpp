#pragma once

namespace halftool::test {

/// Cantilever rolled up to a full ring by a moment at its end.
/// Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.2; data and its exact
/// solution (which is the arc) read from public reference data files that quote the paper. L = 12, b = 1, h =
/// 0.1, E = 1.2e6, nu = 0, greatest moment 2 pi E I / L; twenty moments.
inline constexpr double kRingLength = 12;

struct Ring {
  double worst_miss = 0;   ///< of the tip's displacement vector, over its own length
  double worst_share = 0;  ///< of the moment, there
  double worst_size = 0;   ///< of the exact displacement there
  double opening = 0;      ///< of the ring under the whole moment, from tip to where it should close [mm]
};

/// divisions x divisions/8 cells of two triangles.
/// @param seed  of the irregular mesh; 0: a regular one
Ring roll(int divisions, unsigned seed);

}  // namespace halftool::test
