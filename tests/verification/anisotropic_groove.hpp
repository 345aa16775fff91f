#pragma once
#include <vector>

#include "tests/verification/groove_necking.hpp"

namespace halftool::test {

/// Limits of five sheets with a groove of 0.005, rate-independent, with the major strain along rolling and
/// across it, on paths from -0.4 to equibiaxial tension: Voce and Swift hardening, Hill 1948 and Yld2000-2d
/// with coefficients of the stock. The references are no publication: a program of our own, written apart
/// from this one from the mechanics alone, that steps the groove's strain by 2e-4, extrapolates from two
/// lengths of step and looks for the lowest limit over the groove's first angles in steps of 0.05 degrees.
std::vector<LimitStrain> grooves_of_anisotropic_sheets(double fineness = 1);

}  // namespace halftool::test
