#pragma once
#include <array>
#include <cstddef>

#include "solver/material/sheet_material.hpp"
#include "solver/material/yield_test.hpp"

namespace halftool::solver {

/// Coefficients fitted to tests, and what they give back.
struct Yld2000Fit {
  Yld2000 yield;
  std::array<YieldTest, 4> returned;  ///< at 0, 45, 90 degrees and equibiaxial
  double largest_miss = 0;            ///< of the eight: ratio over that given - 1, difference in r/(1 + r)
  std::size_t worst = 0;              ///< the test that is missed by as much
};

/// Positive coefficients from eight tests by least squares on the relative error of the yield ratios and the
/// error of r/(1 + r), the share of the width in the thinning, which stays of order one for every r
/// (Levenberg-Marquardt, from the isotropic sheet). Eight tests and eight coefficients: where the tests can
/// be met at all nothing is left over. Source of the choice of tests: Barlat and others (2003).
Yld2000Fit fit_yld2000(const Yld2000Tests& tests);

}  // namespace halftool::solver
