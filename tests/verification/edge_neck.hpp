#pragma once
#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// True strains at which an edge in uniaxial tension along it necks, from the sheet's own hardening; where
/// r-values vary in the plane, in the direction of the least. Of a smooth edge: one that was punched or
/// scratched splits earlier.
struct EdgeNeck {
  double r = 1;        ///< r-value of that direction
  double diffuse = 0;  ///< greatest load of a strip: slope of the flow curve equals stress (Considere 1885)
  double local = 0;    ///< line of zero extension: slope equals stress over 1 + r (Hill 1952, from memory)
};

/// A power law with exponent n necks at n and at (1 + r) n, isotropic 2 n, less its pre-strain.
/// @throws std::invalid_argument for another yield condition than von Mises' or Hill's of 1948
EdgeNeck edge_neck(const solver::SheetMaterial& material);

}  // namespace halftool::test
