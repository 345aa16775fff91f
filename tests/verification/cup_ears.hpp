#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A round blank pressed into a shallow round cavity without friction. Its rim is drawn in over the level
/// land and, with r-values that vary in the plane, unevenly.
struct EaringCup {
  solver::RValues r;
  double thickness = 1;        ///< [mm]
  double blank_radius = 60;    ///< [mm]
  double opening_radius = 40;  ///< of the cavity's wall [mm]
  double entry_radius = 5;     ///< [mm]
  double depth = 12;           ///< [mm]
  double pressure = 3;         ///< peak [MPa]
  double edge_length = 2.5;    ///< of the mesh [mm]
};

/// Metal: 6061-O (flange_strip) with the r-values of the setup, Hill 1948.
struct CupRim {
  std::vector<Eigen::Vector2d> hoop;  ///< angle of an edge of the mesh on the rim [rad], true strain along it
  std::vector<Eigen::Vector3d>
      land;  ///< of nodes on the land: angle [rad], radius now, radius in the blank [mm]
  std::vector<Eigen::Vector2d> profile;  ///< angle from the rolling direction [rad], radius [mm]; a quarter
  double lift = 0;                       ///< largest of the rim's height over the land [mm]
  int iterations = 0;
  bool rests = true;

  /// Mean radius of the rim within 6 degrees of an angle [mm].
  [[nodiscard]] double radius_at(double angle) const;
  /// Mean strain along the rim within 10 degrees of an angle.
  [[nodiscard]] double hoop_at(double angle) const;
  /// Length of the rim over what it was.
  [[nodiscard]] double shortening() const;
  /// Radius in the blank of what now lies at a radius near the land's end, near an angle: straight line
  /// through the nodes on the land there [mm].
  [[nodiscard]] double flat_radius_at(double angle, double radius) const;
  /// Angle of the largest radius_at() of the quarter, in whole degrees [rad].
  [[nodiscard]] double largest_at() const;
  /// Height from trough to ear of the part of the rim's radius that goes as the cosine of four times the
  /// angle, least squares beside a mean and the cosine of twice it; > 0: ears at 0 and 90 degrees, < 0: at 45
  /// [mm].
  [[nodiscard]] double four_ears() const;
};

/// A quarter between planes of symmetry, rolling direction along x.
CupRim press_cup(const EaringCup& setup);

/// r-value in tension at an angle to the rolling direction of Hill's condition of 1948 (Hill 1950, ch. XII).
double r_value(const solver::RValues& r, double angle);

/// Strain along the rim, mean within 10 degrees of an angle, where the hoop force goes on from part to part
/// as in a free ring: hoop compression alone, so that yield ratio times flow stress over the section that has
/// grown is the same all round, and the whole rim shortens as it does. Own arithmetic, yield of Hill 1948.
/// @param shortening  length of the rim over what it was
double rim_strain(const EaringCup& setup, double angle, double shortening);

/// Rim radius at an angle from the rolling direction: hoop compression alone stresses the flange, along it
/// each element strains by the share r/(1 + r) of the hoop strain, r being that of the hoop direction, angle
/// + 90 degrees. Rings shorten unevenly alike: by w times ln(R/R0), w from the rim. With rho = w r/(1 + r):
/// R^(1 + rho) = R0^(1 + rho) + a^(1 + rho) - a0^(1 + rho), where what now lies at a was at a0. Own
/// arithmetic, after the reasoning of Hill 1950, ch. XII, on ears.
/// @param entry       a [mm]
/// @param entry_flat  a0 [mm]
/// @param uneven      w
double rim_radius(const EaringCup& setup, double angle, double entry, double entry_flat, double uneven);

}  // namespace halftool::test
