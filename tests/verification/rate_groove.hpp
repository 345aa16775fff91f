#pragma once
#include <vector>

#include "tests/verification/groove_necking.hpp"

namespace halftool::test {

/// Plane-strain limit of a power law with rate sensitivity m, stress K e^n (de/dt)^m: the balance of forces
/// across the groove, (stress(e) exp(-e))^(1/m) de/dt of the sheet = (1 - imperfection)^(1/m) times that of
/// the groove, integrated from the virgin state until the groove has strained without bound. The same holds
/// for a bar in uniaxial tension with a weak section. Hutchinson and Neale, Acta Metall. 25 (1977) 839-846,
/// long wavelengths; Sheet necking III (1978); from memory, re-derived.
double plane_strain_limit_with_rate(double n, double m, double imperfection);

/// Groove across plane strain against that integral; n = 0 against its closed form
/// -m ln(1 - (1 - imperfection)^(1/m)).
std::vector<LimitStrain> rate_grooves_in_plane_strain(double fineness = 1);

/// Von Mises, n = 0.2, paths from uniaxial to equibiaxial tension, oblique grooves on the left. The
/// references are no publication: a program of our own, written apart from this one, that follows the sheet's
/// strain by the classical Runge-Kutta method, seeks the stress in the groove by bisection and stops where
/// the groove strains a thousand times as fast.
std::vector<LimitStrain> rate_grooves_on_other_paths(double fineness = 1);

/// The same against the metal without rate sensitivity, m = 1e-6.
std::vector<LimitStrain> rate_grooves_without_rate(double fineness = 1);

/// A groove that has taken over at 200 times the sheet's strain rate against 100 times, which is what counts.
std::vector<LimitStrain> rate_grooves_followed_further();

}  // namespace halftool::test
