#include "tests/verification/groove_necking.hpp"

#include <cmath>
#include <cstdio>

#include "solver/assessment/computed_limit.hpp"

namespace halftool::test {
namespace {

/// Root below n of the balance of forces across the groove.
double exact_in_plane_strain(double n, double imperfection) {
  const auto carried = [n](double strain) { return n * std::log(strain) - strain; };
  double low = 1e-9;
  double high = n;
  for (int i = 0; i < 80; ++i) {
    const double middle = 0.5 * (low + high);
    (carried(middle) < std::log1p(-imperfection) + carried(n) ? low : high) = middle;
  }
  return low;
}

constexpr solver::SwiftHardening kPressed{400, 0.002, 0.2};

double pressed_flow(double equivalent) {
  return kPressed.strength * std::pow(kPressed.pre_strain + equivalent, kPressed.exponent);
}

/// Plane strain: where the force across the groove over the first thickness has risen to (1 - imperfection)
/// of its maximum.
double pressed_in_plane_strain(double pressure, double imperfection) {
  constexpr double kStep = 1e-5;
  const double side = 2 / std::sqrt(3.0);
  const auto force = [&](double major) {
    return (side * pressed_flow(side * major) - pressure) * std::exp(-major);
  };
  double most = 0;
  for (double major = 0; major < 2; major += kStep) most = std::max(most, force(major));
  double major = 0;
  while (force(major) < (1 - imperfection) * most) major += kStep;
  return major;
}

/// No groove, a neck along the line that does not stretch: its strain is a multiple of the sheet's, so the
/// work of the forces across it that keep in balance gives d flow / d strain = c (flow - c pressure), c
/// thinning over equivalent strain. Without pressure Hill's n/(1 + ratio).
double pressed_local_neck(double ratio, double pressure) {
  constexpr double kStep = 1e-5;
  const double per_major = 2 / std::sqrt(3.0) * std::sqrt(1 + ratio + ratio * ratio);  // equivalent strain
  const double c = (1 + ratio) / per_major;
  double strain = 0;
  while (kPressed.exponent * pressed_flow(strain) / (kPressed.pre_strain + strain) >
         c * (pressed_flow(strain) - c * pressure))
    strain += kStep;
  return strain / per_major;
}

std::string words(const char* form, double a, double b) {
  char text[100];
  (void)std::snprintf(text, sizeof text, form, a, b);
  return text;
}

}  // namespace

solver::GrooveMetal power_law(double n, double m) {
  solver::SheetMaterial material;
  material.youngs_modulus = 2e5;
  material.poissons_ratio = 0.3;
  material.hardening = solver::SwiftHardening{500, 1e-6, n};
  material.strain_rate = solver::StrainRate{std::nullopt, std::nullopt, m};
  return solver::groove_metal(material);
}

std::vector<LimitStrain> grooves_in_plane_strain(double fineness) {
  std::vector<LimitStrain> rows;
  for (const double n : {0.1, 0.2, 0.25})
    for (const double imperfection : {0.02, 0.01, 0.001})
      rows.push_back({words("plane strain, n = %g, imperfection %g", n, imperfection),
                      solver::path_limit(power_law(n), 0, 0, imperfection, fineness),
                      exact_in_plane_strain(n, imperfection), 1e-3});
  return rows;
}

std::vector<LimitStrain> grooves_that_vanish(double fineness) {
  constexpr double n = 0.2;
  std::vector<LimitStrain> rows;
  for (const double ratio : {-0.5, -0.25, -0.1, 0.0})
    rows.push_back({words("strain ratio %g, n = %g, imperfection 1e-5", ratio, n),
                    solver::path_limit(power_law(n), ratio, 0, 1e-5, fineness), n / (1 + ratio), 0.02});
  return rows;
}

std::vector<LimitStrain> grooves_of_equal_thinning(double fineness) {
  constexpr double n = 0.2;
  constexpr double turned = 0.02;  // what leaving the line takes at most, in uniaxial tension
  std::vector<LimitStrain> rows;
  for (const double imperfection : {0.02, 0.01, 0.005})
    for (const double ratio : {-0.1, -0.2, -0.3, -0.4, -0.5})
      rows.push_back({words("strain ratio %g, n = 0.2, imperfection %g", ratio, imperfection),
                      solver::path_limit(power_law(n), ratio, 0, imperfection, fineness),
                      exact_in_plane_strain(n, imperfection) / (1 + ratio), turned});
  return rows;
}

std::vector<LimitStrain> grooves_in_biaxial_tension(double fineness) {
  struct Known {
    double imperfection, ratio, major;
  };
  constexpr Known known[] = {{0.01, 0.1, 0.1445},  {0.01, 0.25, 0.1817}, {0.01, 0.5, 0.286},
                             {0.01, 0.75, 0.397},  {0.01, 1, 0.490},     {0.005, 0.1, 0.165},
                             {0.005, 0.25, 0.222}, {0.005, 0.5, 0.361},  {0.005, 0.75, 0.501},
                             {0.005, 1, 0.616}};
  std::vector<LimitStrain> rows;
  for (const Known& k : known)
    rows.push_back({words("strain ratio %g, n = 0.2, imperfection %g", k.ratio, k.imperfection),
                    solver::path_limit(power_law(0.2), k.ratio, 0, k.imperfection, fineness), k.major, 5e-3});
  return rows;
}

std::vector<LimitStrain> grooves_under_pressure(double fineness) {
  solver::SheetMaterial material;
  material.youngs_modulus = 7e4;
  material.poissons_ratio = 0.33;
  material.hardening = kPressed;
  const double proof = solver::most_normal_pressure(material);
  std::vector<LimitStrain> rows;
  const auto add = [&](double ratio, double share, double imperfection, double reference, double tolerance) {
    const auto metal = solver::groove_metal(material, share * proof);
    rows.push_back({words("strain ratio %g, normal pressure %g of the proof stress", ratio, share),
                    solver::path_limit(metal, ratio, 0, imperfection, fineness), reference, tolerance});
  };
  for (const double share : {0.3, 0.6, 1.0})
    add(0, share, 0.01, pressed_in_plane_strain(share * proof, 0.01), 1e-3);
  for (const double ratio : {-0.25, -0.1, 0.0})
    add(ratio, 0.5, 1e-5, pressed_local_neck(ratio, 0.5 * proof), 0.01);
  return rows;
}

}  // namespace halftool::test
