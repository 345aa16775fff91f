#include "tests/verification/viscous_groove.hpp"

#include <cmath>
#include <cstdio>

#include "solver/assessment/computed_limit.hpp"

namespace halftool::test {
namespace {

/// Least argument above `low` at which a growing function is no longer below 0.
template <class Function>
double root_above(double low, const Function& f) {
  double high = low + 1;
  while (f(high) < 0) high = low + 2 * (high - low);
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (f(middle) < 0 ? low : high) = middle;
  }
  return high;
}

solver::GrooveMetal viscous(double m, double r) {
  solver::SheetMaterial material;
  material.youngs_modulus = 2e5;
  material.poissons_ratio = 0.3;
  material.hardening = solver::SwiftHardening{500, 1e-6, 0};
  material.strain_rate = solver::StrainRate{std::nullopt, std::nullopt, m};
  if (r != 1) material.yield = solver::RValues{r, r, r};
  return solver::groove_metal(material);
}

/// Major strain at the end of one groove.
double followed(const solver::GrooveMetal& metal, double ratio, const solver::Groove& groove,
                double fineness) {
  const solver::StraightPath path = solver::straight_path(metal.yield, ratio, 0);
  solver::GrooveSteps steps{2e-3 / fineness};
  steps.share /= fineness;
  steps.taken /= fineness;
  steps.farthest = steps.enough =
      30;  // the groove of a viscous metal strains by many times the sheet's strain
  return path.major * solver::groove_limit(metal, path, groove, steps).value_or(0);
}

}  // namespace

double viscous_limit(double m, double ratio, double imperfection, double r) {
  const double c = r / (1 + r);
  const auto q = [&](double x) { return x * x + 2 * c * x * ratio + ratio * ratio; };
  const auto stress = [&](double x) { return std::log(x + c * ratio) + 0.5 * (m - 1) * std::log(q(x)); };
  const auto slope = [&](double x) { return 1 / (x + c * ratio) + (m - 1) * (x + c * ratio) / q(x); };
  const double first =
      root_above(1.0, [&](double x) { return stress(x) - stress(1) + std::log1p(-imperfection); });
  // With x - 1 = (first - 1) exp(u) the integrand is the slope of ln g alone, which dies out as exp(-u).
  constexpr double end = 60;
  constexpr int steps = 20000;
  constexpr double h = end / steps;
  double sum = 0;
  for (int i = 0; i <= steps; ++i) {
    const double weight = i == 0 || i == steps ? 1 : 2 + 2 * (i % 2);
    sum += weight * slope(1 + (first - 1) * std::exp(i * h));
  }
  return sum * h / 3;
}

double newtonian_limit(double ratio, double imperfection, double turn) {
  const double s = std::sin(turn), k = std::cos(turn);
  return root_above(0.0, [&](double major) {
    const double stretch = std::hypot(s * std::exp(major), k * std::exp(ratio * major));
    return (1 + ratio) * major - 0.5 * std::log(stretch) + std::log(imperfection);
  });
}

std::vector<LimitStrain> viscous_grooves_across(double fineness) {
  std::vector<LimitStrain> rows;
  for (const double m : {0.05, 0.2, 0.5})
    for (const double ratio : {-0.5, -0.25, 0.25, 0.5, 0.75, 1.0}) {
      constexpr double imperfection = 0.01;
      char text[100];
      (void)std::snprintf(text, sizeof text, "strain ratio %g, m = %g, imperfection %g", ratio, m,
                          imperfection);
      rows.push_back({text, followed(viscous(m, 1), ratio, {imperfection, 0}, fineness),
                      viscous_limit(m, ratio, imperfection), 2e-4});
    }
  return rows;
}

std::vector<LimitStrain> viscous_grooves_under_hill(double fineness) {
  std::vector<LimitStrain> rows;
  for (const double r : {0.6, 2.0})
    for (const double ratio : {-0.25, 0.5, 1.0}) {
      constexpr double m = 0.1, imperfection = 0.01;
      char text[100];
      (void)std::snprintf(text, sizeof text, "strain ratio %g, m = %g, r = %g, imperfection %g", ratio, m, r,
                          imperfection);
      rows.push_back({text, followed(viscous(m, r), ratio, {imperfection, 0}, fineness),
                      viscous_limit(m, ratio, imperfection, r), 2e-4});
    }
  return rows;
}

std::vector<LimitStrain> oblique_newtonian_grooves(double fineness) {
  std::vector<LimitStrain> rows;
  for (const double ratio : {-0.25, 0.0, 0.5, 1.0})
    for (const double turn : {0.0, 0.3, 0.6}) {
      constexpr double imperfection = 0.1;
      char text[100];
      (void)std::snprintf(text, sizeof text,
                          "strain ratio %g, groove turned by %g rad, m = 1, imperfection %g", ratio, turn,
                          imperfection);
      rows.push_back({text, followed(viscous(1, 1), ratio, {imperfection, turn}, fineness),
                      newtonian_limit(ratio, imperfection, turn), 5e-4});
    }
  return rows;
}

}  // namespace halftool::test
