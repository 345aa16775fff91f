#pragma once
#include <Eigen/Core>

namespace halftool::test {

/// A clamped circular plate of radius a and thickness h with immovable edge under uniform pressure.
struct VonKarmanPlate {
  double deflection = 0;   ///< of the centre, over h
  Eigen::VectorXd radial;  ///< (cells + 1) membrane stress along the radius from the centre, over E h^2 / a^2

  /// Radial membrane stress at a distance from the centre, over E h^2 / a^2.
  /// @param share  of the radius, 0 to 1
  [[nodiscard]] double radial_at(double share) const;
};

/// Axisymmetric equations of von Karman (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, ch.
/// 13), central differences on `cells` cells, error of second order.
/// @param load  P = q a^4 / (E h^4)
/// @throws std::runtime_error  Newton's iteration does not end
VonKarmanPlate von_karman_plate(double load, double poissons_ratio, int cells);

/// The same from two grids, 100 and 200 cells, to fourth order.
VonKarmanPlate von_karman_plate(double load, double poissons_ratio);

}  // namespace halftool::test
