#include "solver/assessment/hand_formulas.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "mesh/screens/concave_edges.hpp"

namespace halftool::solver {

double first_yield(const ScreenLoad& load) {
  return flow_stress(tension_curve(load.sheet), 0).stress;
}

double proof_stress(const ScreenLoad& load) {
  constexpr double strain = 0.002;
  return flow_stress(tension_curve(load.sheet), strain).stress;
}

double worked_stress(const ScreenLoad& load) {
  constexpr double strain = 0.1;
  return flow_stress(tension_curve(load.sheet), strain).stress;
}

double plane_strain_yield(double sigma) {
  return 2 * std::numbers::inv_sqrt3 * sigma;
}

double fill_pressure(double sigma, double thickness, double r1, double r2) {
  return plane_strain_yield(sigma) * thickness * mesh::fill_curvature(r1, r2);
}

double sinking_width(double sigma, double thickness, double pressure) {
  return 2 * thickness * std::sqrt(plane_strain_yield(sigma) / pressure);
}

double sinking_diameter(double sigma, double thickness, double pressure) {
  return thickness * std::sqrt(11.26 * sigma / pressure);
}

double wall_root_stress(double pressure, double height, double thickness) {
  return 3 * pressure * std::pow(height / thickness, 2);
}

double least_wall_ratio(double pressure, double allowed) {
  return std::sqrt(3 * pressure / allowed);
}

double ring_hoop_stress(double pressure, double ratio) {
  return pressure * (ratio * ratio + 1) / (ratio * ratio - 1);
}

double fold_pressure(double sigma, double thickness, double length, double curvature) {
  const double straight = plane_strain_yield(sigma) * std::pow(thickness / length, 2) / 2;
  return straight * (1 + std::abs(curvature) * length) / (1 + 2.0 / 3 * curvature * length);
}

double locking_length(double sigma, double thickness, double friction, double pressure) {
  if (friction == 0) return std::numeric_limits<double>::infinity();
  return plane_strain_yield(sigma) * thickness / (friction * pressure);
}

double radius_of_fibre_strain(double strain, double thickness) {
  return std::max(0.0, 0.5 * thickness * (1 / std::expm1(strain) - 1));
}

double flange_leg(double overhang, double middle_radius, double turn) {
  return overhang - middle_radius * turn;
}

EdgeRadii flange_edge_radii(const CurvedFlange& flange) {
  const double side = flange.inward ? -1 : 1;
  const double leg = flange_leg(flange.overhang, flange.middle_radius, flange.turn);
  const double reach = flange.middle_radius * std::sin(flange.turn) + leg * std::cos(flange.turn);
  return {flange.axis_radius + side * flange.overhang, flange.axis_radius + side * reach};
}

double flange_edge_strain(const CurvedFlange& flange) {
  const auto [flat, formed] = flange_edge_radii(flange);
  if (flat <= 0 || formed <= 0) return std::numeric_limits<double>::quiet_NaN();
  return std::log(formed / flat);
}

double edge_waving_strain(double poissons_ratio, double thickness, double height) {
  constexpr double k = 0.43;
  return k * std::pow(std::numbers::pi * thickness / height, 2) /
         (12 * (1 - poissons_ratio * poissons_ratio));
}

}  // namespace halftool::solver
