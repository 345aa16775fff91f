#pragma once
#include <vector>

#include "tests/verification/groove_necking.hpp"

namespace halftool::test {

/// Rate sensitivity m of low-carbon and interstitial-free steel (from memory). The program that the measured
/// steel was published with gives all its metals 0.05.
constexpr double kRateExponentOfSteel = 0.02;

/// Interstitial-free steel: computed limits on measured paths against strains 6 mm from the middle of the
/// neck, where it ends, in flat-bottom stretching (image correlation). Measured by Jeong 2012, published as a
/// table with a program, no paper named; hardening fitted to a bulge test and r-values by the same author.
/// Tolerance 0.02 of strain.
/// @param rate_exponent  m
/// @param fineness       of steps: 2 halves them
std::vector<LimitStrain> limits_of_measured_paths(double rate_exponent, double fineness = 1);

/// The last of these paths, near equal strains, under other yield conditions.
std::vector<LimitStrain> equibiaxial_limits_by_yield(double rate_exponent);

}  // namespace halftool::test
