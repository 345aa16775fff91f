#pragma once
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

enum class FibreStrain {
  linear,       ///< e = e0 + y/R, thickness and arms fixed: the textbook bend
  logarithmic,  ///< e = ln(stretch), stretch = mid_stretch (1 + z/R), z scaled by the current thickness
};

/// A fibre's height over the thickness, -1/2 to 1/2, and its share of it.
struct FibrePlace {
  double zeta = 0;
  double weight = 0;
};

/// Bend of a wide sheet (width strain zero) to a given radius, and its release. Reference for the shell: it
/// shares no code with it but the flow stress and the search for a zero. Backstress by the rates of
/// Frederick and Armstrong.
struct FibreBend {
  solver::SheetMaterial material;
  double thickness = 0;  ///< before bending [mm]
  double radius = 0;     ///< of the formed mid-surface [mm]
  FibreStrain strain = FibreStrain::logarithmic;
  double outer_pressure =
      0;  ///< on the convex face at the full bend [MPa]; grows in proportion to the curvature
  double inner_pressure = 0;  ///< on the concave face [MPa]; the normal stress is linear between the faces
  double tension = 0;  ///< along the strip, per reference width [N/mm]: first on the flat strip, constant
                       ///< while it is bent, gone with the moment in the release
  bool straightened = false;         ///< bent flat again before the release, without pressures: reverse yield
  bool bent_again = false;           ///< after that, to the same radius
  bool pressure_after_bend = false;  ///< the pressures grow at full curvature instead, as on a tool
  // Numerical effort: errors below 1e-6 of moment and springback with these values (tests/solver/material).
  int n_fibres = 1000;                  ///< even: two, at its Gauss points, in each of n/2 equal cells
  int n_steps = 80;                     ///< equal increments of curvature, net force balanced after each
  double substep = 0.15;                ///< of the rate equations, in units of yield strain
  std::vector<FibrePlace> fibres = {};  ///< instead of the n_fibres: a rule under study
};

struct FibreBendResult {
  double moment = 0;       ///< formed, per reference width [N mm/mm], conjugate to turn
  double thickness = 0;    ///< formed [mm]
  double mid_stretch = 1;  ///< formed length of the mid-surface over its reference length
  double turn = 0;         ///< before the release: rotation per reference length [1/mm], mid_stretch / radius
  double released_turn = 0;  ///< after release through the same law, reverse yield included [1/mm]
  double springback = 0;     ///< 1 - released_turn / turn: angle opened per angle bent; 0 where straightened
  double elastic_springback =
      0;  ///< 12 moment (1 - nu^2) / (E t^3 turn): release by the elastic plate formula
};

/// Each fibre follows the rate equations of J2 plasticity, isotropic or with terms of backstress, under plane
/// strain and prescribed normal stress (Hill 1950) by the classical Runge-Kutta method in steps small against
/// the yield strain; net in-plane force is the tension throughout; release takes moment, tension and
/// pressures to zero in proportion.
/// @throws std::runtime_error if the balance of forces is not found
FibreBendResult bend_and_release(const FibreBend& bend);

}  // namespace halftool::test
