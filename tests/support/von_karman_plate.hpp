#pragma once

namespace halftool::test {

/// Deflection of the centre, over the thickness h, of a clamped circular plate of radius a with immovable
/// edge under uniform pressure q: axisymmetric equations of von Karman (Timoshenko and Woinowsky-Krieger,
/// Theory of Plates and Shells, ch. 13), central differences on `cells` cells, error of second order.
/// @param load  P = q a^4 / (E h^4)
/// @throws std::runtime_error  Newton's iteration does not end
double clamped_plate_deflection(double load, double poissons_ratio, int cells);

}  // namespace halftool::test
