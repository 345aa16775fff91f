#include "tests/verification/rate_groove.hpp"

#include <array>
#include <cmath>
#include <cstdio>

#include "solver/assessment/computed_limit.hpp"

namespace halftool::test {
namespace {

std::string words(const char* form, double a, double b, double c) {
  char text[100];
  (void)std::snprintf(text, sizeof text, form, a, b, c);
  return text;
}

constexpr const char* kPlaneStrain = "plane strain, n = %g, m = %g, imperfection %g";
constexpr const char* kOtherPath = "strain ratio %g, n = 0.2, m = %g, imperfection %g";

}  // namespace

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

std::vector<LimitStrain> rate_grooves_in_plane_strain(double fineness) {
  std::vector<LimitStrain> rows;
  for (const auto& [m, imperfection] : {std::pair(0.05, 0.005), std::pair(0.3, 0.02)})
    rows.push_back({words(kPlaneStrain, 0, m, imperfection),
                    solver::path_limit(power_law(0, m), 0, 0, imperfection, fineness),
                    -m * std::log(1 - std::pow(1 - imperfection, 1 / m)), 1e-3});
  for (const double n : {0.1, 0.25})
    for (const double m : {0.005, 0.02, 0.1})
      for (const double imperfection : {0.02, 0.005})
        rows.push_back({words(kPlaneStrain, n, m, imperfection),
                        solver::path_limit(power_law(n, m), 0, 0, imperfection, fineness),
                        plane_strain_limit_with_rate(n, m, imperfection), 1e-3});
  return rows;
}

std::vector<LimitStrain> rate_grooves_on_other_paths(double fineness) {
  struct Known {
    double m, imperfection, ratio, major;
  };
  constexpr Known known[] = {
      {0.02, 0.005, -0.5, 0.50698}, {0.02, 0.005, -0.25, 0.34737}, {0.02, 0.005, 0.1, 0.26844},
      {0.02, 0.005, 0.25, 0.31122}, {0.02, 0.005, 0.5, 0.43589},   {0.02, 0.005, 0.75, 0.56673},
      {0.02, 0.005, 1, 0.67381},    {0.01, 0.01, -0.5, 0.35511},   {0.01, 0.01, -0.25, 0.24837},
      {0.01, 0.01, 0.1, 0.19176},   {0.01, 0.01, 0.25, 0.22228},   {0.01, 0.01, 0.5, 0.31909},
      {0.01, 0.01, 0.75, 0.42578},  {0.01, 0.01, 1, 0.51614}};
  std::vector<LimitStrain> rows;
  for (const Known& k : known)
    rows.push_back({words(kOtherPath, k.ratio, k.m, k.imperfection),
                    solver::path_limit(power_law(0.2, k.m), k.ratio, 0, k.imperfection, fineness), k.major,
                    1e-3});
  return rows;
}

std::vector<LimitStrain> rate_grooves_without_rate(double fineness) {
  std::vector<LimitStrain> rows;
  for (const double ratio : {-0.5, -0.25, 0.0, 0.1, 0.5, 1.0})
    rows.push_back({words(kOtherPath, ratio, 1e-6, 0.005),
                    solver::path_limit(power_law(0.2, 1e-6), ratio, 0, 0.005, fineness),
                    solver::path_limit(power_law(0.2), ratio, 0, 0.005, fineness), 5e-4});
  return rows;
}

std::vector<LimitStrain> rate_grooves_followed_further() {
  std::vector<LimitStrain> rows;
  for (const double m : {0.005, 0.05})
    for (const double ratio : {-0.25, 0.0, 0.5, 1.0}) {
      const solver::GrooveMetal metal = power_law(0.2, m);
      const solver::StraightPath path = solver::straight_path(metal.yield, ratio, 0);
      constexpr double imperfection = 0.005;
      const auto limit = [&](double taken) {
        solver::GrooveSteps steps{0.005};
        steps.taken = taken;
        const double turn = ratio < 0 ? 0.3 : 0;
        return path.major * solver::groove_limit(metal, path, {imperfection, turn}, steps).value_or(0);
      };
      constexpr double usual = solver::GrooveSteps().taken;
      rows.push_back({words(kOtherPath, ratio, m, imperfection), limit(usual / 2), limit(usual), 2e-4});
    }
  return rows;
}

}  // namespace halftool::test
