#pragma once
#include <vector>

#include "tests/verification/groove_necking.hpp"

namespace halftool::test {

/// Limit major strain of a sheet that does not harden, flow stress K (de/dt)^m, with a groove across the
/// major strain. Strain along the groove is shared and the balance of forces holds no strain, so that the
/// groove's rate x over the sheet's alone tells how far it has come: with q(x) = x^2 + 2 c x s + s^2, s the
/// strain ratio, c = r/(1 + r), the stress across goes as g(x) = (x + c s) q^((m-1)/2), the logarithm of the
/// ratio of thicknesses as g(1)/g(x), and it falls by x - 1 with the sheet's major strain. The limit is the
/// integral of d ln g/(x - 1) from g(x) = g(1)/(1 - imperfection) to infinity. Own arithmetic; in plane
/// strain it is the closed form of Hutchinson and Neale, Acta Metall. 25 (1977) 839-846 (from memory).
/// @param r  ratio of width to thickness strain, the same in all directions: Hill 1948; 1: von Mises
double viscous_limit(double m, double ratio, double imperfection, double r = 1);

/// The same with m = 1 and von Mises, a Newtonian fluid, for a groove at any first angle: the difference of
/// thickness of sheet and groove goes as the root of one over the stretch along the groove, which turns as a
/// line of the sheet does. Own arithmetic.
/// @param turn  first angle of the groove's normal from the major strain [rad]
double newtonian_limit(double ratio, double imperfection, double turn);

// Tolerances: over twice the greatest error, which is that of the steps and of the rate at which a groove
// counts as having taken over; `fineness` divides both.

/// Von Mises, groove across, paths from uniaxial to equibiaxial tension, m from 0.05 to 0.5.
std::vector<LimitStrain> viscous_grooves_across(double fineness = 1);

/// Hill 1948 with r-values of 0.6 and 2, m = 0.1.
std::vector<LimitStrain> viscous_grooves_under_hill(double fineness = 1);

/// Oblique grooves in a Newtonian fluid, which turn as the sheet strains and shear.
std::vector<LimitStrain> oblique_newtonian_grooves(double fineness = 1);

}  // namespace halftool::test
