#pragma once
#include <string>
#include <vector>

#include "solver/assessment/groove.hpp"

namespace halftool::test {

/// One limit strain of a sheet with a groove against its reference.
struct LimitStrain {
  std::string path;
  double value = 0;      ///< major true strain, ours
  double reference = 0;  ///< major true strain
  double tolerance = 0;  ///< true strain
};

/// Von Mises, power law of strain and of strain rate with a first yield at a strain of 1e-6.
solver::GrooveMetal power_law(double n, double m = 0);

/// Groove across plane strain: strain^n exp(-strain) = (1 - imperfection) n^n exp(-n), exact where elastic
/// strain and the first yield are small. Hutchinson and Neale, Sheet necking III, in Mechanics of Sheet Metal
/// Forming (1978), in the limit without rate effect (from memory; the balance is re-derived here).
std::vector<LimitStrain> grooves_in_plane_strain(double fineness = 1);

/// Imperfection of 1e-5 on paths up to plane strain: n/(1 + ratio), Hill, J. Mech. Phys. Solids 1 (1952)
/// 19-30; in plane strain Considere's n.
std::vector<LimitStrain> grooves_that_vanish(double fineness = 1);

/// Left of plane strain, n = 0.2: the thinning of plane strain, a line of slope -1 over the minor strain, as
/// forming limits are drawn (Keeler and Brazier, Microalloying 75 (1977) 517-530; from memory). It is exact
/// for a groove that stays on the line that does not stretch, as in Hill's local neck: both metals then
/// strain in one direction, and the balance across the groove is that of plane strain in the thinning. The
/// groove that turns with the sheet leaves that line, so the lowest limit of all first angles lies below.
std::vector<LimitStrain> grooves_of_equal_thinning(double fineness = 1);

/// Von Mises, n = 0.2, groove across the major strain, imperfections 0.01 and 0.005, biaxial paths. The
/// references are no publication: a program of our own, written apart from this one, that steps the sheet's
/// strain by 1e-5 and stops where the groove strains ten times as fast.
std::vector<LimitStrain> grooves_in_biaxial_tension(double fineness = 1);

/// Grooves pressed between flat faces, von Mises, Swift hardening with n = 0.2, normal pressures up to the
/// proof stress: across plane strain with an imperfection of 0.01, where the force across the groove, (stress
/// less pressure) times thickness, is that in the sheet, and on paths up to plane strain with one of 1e-5,
/// against a neck along the line that does not stretch. Own arithmetic.
std::vector<LimitStrain> grooves_under_pressure(double fineness = 1);

}  // namespace halftool::test
