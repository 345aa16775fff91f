#include "tests/verification/measured_limits.hpp"

#include <cmath>
#include <numbers>

#include "solver/assessment/computed_limit.hpp"

namespace halftool::test {
namespace {

solver::SheetMaterial measured_steel() {
  solver::SheetMaterial material;
  material.youngs_modulus = 206000;
  material.poissons_ratio = 0.3;
  material.hardening = solver::SwiftHardening{600.162, 4.23405e-4, exponent_of_measured_steel()};
  material.yield = solver::RValues{2.09211, 1.89997, 2.87794};
  return material;
}

struct Measured {
  const char* path;
  double along;         ///< major strain from rolling [rad]
  double major, minor;  ///< true
};
constexpr Measured kMeasured[] = {{"plane strain along rolling", 0, 0.331, -0.013},
                                  {"plane strain across rolling", std::numbers::pi / 2, 0.358, -0.028},
                                  {"equibiaxial", 0, 0.476, 0.456}};

}  // namespace

double exponent_of_measured_steel() {
  return 0.255393;
}

std::vector<LimitStrain> limits_of_measured_paths(double fineness) {
  const auto metal = solver::groove_metal(measured_steel());
  std::vector<LimitStrain> rows;
  for (const Measured& m : kMeasured)
    rows.push_back(
        {m.path, solver::path_limit(metal, m.minor / m.major, m.along, solver::kUsualImperfection, fineness),
         m.major, 0.02});
  return rows;
}

double plane_strain_limit_with_rate(double n, double m, double imperfection) {
  constexpr double end = 6;  // the integrand is past its peak at n by many powers of ten
  constexpr int steps = 600000;
  const auto integrand = [&](double e) { return std::exp((n * std::log(e / n) - (e - n)) / m); };
  const auto area = [&](double to) { return (integrand(to) + integrand(to + end / steps)) / 2; };
  double whole = 0;
  for (int i = 1; i < steps; ++i) whole += area(i * end / steps);
  const double carried = std::pow(1 - imperfection, 1 / m) * whole;
  double sum = 0;
  for (int i = 1; i < steps; ++i) {
    const double next = area(i * end / steps);
    if (sum + next > carried) return (i + (carried - sum) / next) * end / steps;
    sum += next;
  }
  return end;
}

}  // namespace halftool::test
