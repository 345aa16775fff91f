#pragma once
#include <vector>

#include "tests/verification/groove_necking.hpp"

namespace halftool::test {

/// Interstitial-free steel: computed limits on measured paths against strains 6 mm from the middle of the
/// neck, where it ends, in flat-bottom stretching (image correlation). Measured by Jeong 2012, published as a
/// table with a program, no paper named; hardening fitted to a bulge test and r-values by the same author.
/// Tolerance 0.02 of strain.
/// @param fineness  of steps: 2 halves them
std::vector<LimitStrain> limits_of_measured_paths(double fineness = 1);

/// Plane-strain limit of a power law with rate sensitivity m, stress K e^n (de/dt)^m: integral of
/// e^(n/m) exp(-e/m) in the sheet = (1 - imperfection)^(1/m) times that in the groove to its end. Hutchinson
/// and Neale, Sheet necking III (1978), from memory; re-derived.
double plane_strain_limit_with_rate(double n, double m, double imperfection);

/// Exponent of the steel's hardening law.
double exponent_of_measured_steel();

}  // namespace halftool::test
