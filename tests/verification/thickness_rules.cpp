#include "tests/verification/thickness_rules.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/material/gauss_legendre.hpp"
#include "solver/material/stress_update.hpp"
#include "tests/support/reference_sheets.hpp"

namespace halftool::test {
namespace {

std::vector<FibrePlace> gauss(int n) {
  const solver::ThicknessRule rule = solver::gauss_legendre(n);
  std::vector<FibrePlace> places;
  for (int i = 0; i < n; ++i) places.push_back({rule.zeta[i], rule.weight[i]});
  return places;
}

/// Ends and the zeros of P'_{n-1}; weights 1/(n (n - 1) P_{n-1}^2) of an interval of length 1 (Abramowitz and
/// Stegun 1964, 25.4.32). Newton on (1 - x^2) P'(x), whose slope is -n (n - 1) P(x), from Chebyshev's points.
std::vector<FibrePlace> lobatto(int n) {
  std::vector<FibrePlace> places(n);
  for (int i = 0; i < n; ++i) {
    double x = -std::cos(std::numbers::pi * i / (n - 1));
    double p = 1;
    for (int iteration = 0; iteration < 50; ++iteration) {
      double before = 1;
      p = x;
      for (int k = 2; k < n; ++k) {
        const double next = ((2 * k - 1) * x * p - (k - 1) * before) / k;
        before = p;
        p = next;
      }
      const double step = (x * p - before) / (n * p);
      x -= step;
      if (std::abs(step) < 1e-15) break;
    }
    places[i] = {0.5 * x, 1 / (n * (n - 1) * p * p)};
  }
  return places;
}

std::vector<FibrePlace> midpoint(int n) {
  std::vector<FibrePlace> places;
  for (int i = 0; i < n; ++i) places.push_back({(i + 0.5) / n - 0.5, 1.0 / n});
  return places;
}

std::vector<FibrePlace> simpson(int n) {
  if (n % 2 == 0) throw std::invalid_argument("Simpson's composite rule needs an odd number of points");
  std::vector<FibrePlace> places;
  for (int i = 0; i < n; ++i) {
    const double share = i == 0 || i == n - 1 ? 1 : i % 2 == 1 ? 4 : 2;
    places.push_back({static_cast<double>(i) / (n - 1) - 0.5, share / (3.0 * (n - 1))});
  }
  return places;
}

}  // namespace

const char* name_of(Rule rule) {
  switch (rule) {
    case Rule::gauss:
      return "Gauss";
    case Rule::lobatto:
      return "Lobatto";
    case Rule::midpoint:
      return "midpoint";
    case Rule::simpson:
      return "Simpson";
  }
  return "";
}

std::vector<FibrePlace> places_of(Rule rule, int n) {
  switch (rule) {
    case Rule::gauss:
      return gauss(n);
    case Rule::lobatto:
      return lobatto(n);
    case Rule::midpoint:
      return midpoint(n);
    case Rule::simpson:
      return simpson(n);
  }
  return {};
}

double springback_by(const FibreBend& bend, Rule rule, int n) {
  FibreBend summed = bend;
  summed.fibres = places_of(rule, n);
  return bend_and_release(summed).springback;
}

double gauss_moment_error(int n) {
  const double thickness = 1.2;
  const solver::SheetMaterial metal = perfect();
  FibreBend fibre{metal, thickness, 10 * thickness, FibreStrain::linear};
  fibre.n_steps = 1;
  const double reference = bend_and_release(fibre).moment;
  const solver::PlaneModuli moduli(metal.youngs_modulus, metal.poissons_ratio);
  const auto& curve = std::get<solver::VoceHardening>(metal.hardening);
  double moment = 0;
  for (const auto& [zeta, weight] : gauss(n)) {
    solver::PointStress point;
    point.plastic_strain.setZero();
    constexpr int kSteps = 500;
    for (int step = 1; step <= kSteps; ++step) {
      const double strain = 0.1 * zeta * step / kSteps;
      const Eigen::Vector3d plastic = point.plastic_strain;
      if (!solver::update_stress(moduli, curve, solver::strain_coordinates({strain, 0, 0}), plastic,
                                 point.equivalent_plastic_strain, 0, point))
        throw std::runtime_error("thickness rules: no stress");
    }
    moment += weight * zeta * solver::voigt_stress(point.stress)[0] * thickness * thickness;
  }
  return moment / reference - 1;
}

}  // namespace halftool::test
