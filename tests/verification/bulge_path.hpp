#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"
#include "tests/verification/bulge_pole.hpp"

namespace halftool::test {

/// A round or elliptical sheet clamped at its rim and bulged freely, past its greatest pressure: the volume
/// of fluid leads, the pressure is an unknown.
struct FreeBulge {
  solver::SheetMaterial material;
  double thickness = 0.25;             ///< [mm]
  Eigen::Vector2d semi_axes{50, 50};   ///< [mm]
  int rings = 16;                      ///< of triangles from the pole to the rim
  unsigned seed = 1;                   ///< of the irregular mesh
  double last_thickness_strain = 0.8;  ///< -ln(t/t0) at the pole that ends the run
  double largest_motion = 1;           ///< of a node in one increment [mm]
};

struct BulgePoint {
  double pressure = 0;  ///< [MPa]
  double height = 0;    ///< of the pole [mm]
  Pole pole;
  double cap_balance = 0;  ///< see cap_balance in bulge_pole.hpp
  /// Of each triangle: distance of its middle from the pole in the flat sheet [semi-axes], -ln(t/t0). Filled
  /// at the greatest pressure only.
  std::vector<Eigen::Vector2d> profile;
};

struct BulgePath {
  std::vector<BulgePoint> points;
  std::string broken_off;  ///< why the run found no equilibrium on; empty: it reached its end
  int greatest = 0;        ///< number of the point of greatest pressure
  /// Place of the maximum of the parabola through the greatest point and its neighbours: pole thickness
  /// strain (positive), pressure [MPa].
  Eigen::Vector2d summit = Eigen::Vector2d::Zero();
};

BulgePath bulge_freely(const FreeBulge& setup);

/// Hill's special solution (Phil. Mag. 41 (1950) 1133): the bulge is a spherical cap and every particle moves
/// along the circle normal to the caps through the rim. With x = height over opening radius a and q = r0/a:
/// thickness strain -ln(t/t0) = 2 ln((1 + x^2)/(1 + q^2 x^2)), at the pole p a/(sigma t0) = 4 x/(1 + x^2)^3.
double hill_thickness_strain(double height_ratio, double place);
/// Height over opening radius at a thickness strain of the pole.
double hill_height(double pole_strain);
/// p a/(sigma t0).
double hill_pressure(double height_ratio);
/// Pole strain at the greatest pressure of sigma = K (e0 + e)^n, by Hill's solution.
double hill_summit(const solver::SwiftHardening& law);

}  // namespace halftool::test
