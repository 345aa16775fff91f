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

}  // namespace halftool::test
