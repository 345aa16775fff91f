#pragma once
#include <vector>

namespace halftool::test {

/// Clamped circular plate with immovable edge under uniform fluid pressure, from linear bending to the
/// membrane.
///
/// Source: von Karman's equations, solved by finite differences for the purpose (von_karman_plate.hpp;
/// Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, ch. 13; exact series: Way, Trans. ASME 56
/// (1934), from memory). Membrane limit, for nu = 0.3: deflection 0.6534 a (q a / E h)^(1/3), stress 0.4311
/// and 0.3330 times (E q^2 a^2 / h^2)^(1/3) at centre and edge, by our own calculation (Fichter, NASA TP-3658
/// (1997), after Hencky 1915: 0.653; from memory).
inline constexpr double kPlatePoisson = 0.3;
inline constexpr double kMembraneDeflection = 0.6534;
inline constexpr double kMembraneCentre = 0.4311;
inline constexpr double kMembraneEdge = 0.3330;

/// Radial stress of the membrane at a share of the radius, over (E q^2 a^2 / h^2)^(1/3): Hencky's series,
/// five terms beyond the centre's (from memory; with nu = 0.3 they give the constants above to four digits).
double membrane_radial_stress(double share);

/// One load on the plate. Stresses over E h^2 / a^2.
struct PressedPlate {
  double load = 0;           ///< P = q a^4 / (E h^4)
  double deflection = 0;     ///< of the centre, over h
  double centre_stress = 0;  ///< membrane, mean of the directions and of the triangles at the centre
  double edge_stress = 0;    ///< membrane, radial, mean of the triangles that have an edge on the border
  double edge_place = 0;     ///< mean distance of these triangles' middles from the centre, over a
};

/// The plate at rising loads; 6 rings^2 triangles. The fluid follows it.
/// @param seed   of the irregular mesh; 0: a regular one
/// @param slope  h/a: at a given P the deflection over h is the same in von Karman's theory, the slopes go
/// with it
std::vector<PressedPlate> press_plate(const std::vector<double>& loads, int rings, unsigned seed,
                                      double slope = 0.002);

}  // namespace halftool::test
