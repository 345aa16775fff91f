#pragma once
#include <cmath>
#include <random>
#include <vector>

#include "solver/material/hardening.hpp"
#include "solver/material/tensile_curve.hpp"

namespace halftool::test {

/// An invented tensile test of a sheet that follows a law exactly: 12 elastic points, then plastic strains in
/// small steps beyond the greatest load. A point lies at 0.2 % plastic strain.
/// @param shift  engineering strain at which the extensometer began
inline solver::TensileTest made_tensile_test(const solver::Hardening& law, double modulus, bool true_values,
                                             double shift = 0) {
  std::vector<solver::TensilePoint> curve;  // true
  const double yield = solver::flow_stress(law, 0).stress;
  for (int i = 0; i < 12; ++i) curve.push_back({i * yield / 12 / modulus, i * yield / 12});
  for (int i = 0; i <= 500; ++i) {
    const double plastic = 0.001 * i;
    const double stress = solver::flow_stress(law, plastic).stress;
    curve.push_back({plastic + stress / modulus, stress});
  }
  solver::TensileTest test{{}, true_values};
  for (const auto& [strain, stress] : curve)
    test.points.push_back(true_values
                              ? solver::TensilePoint{strain + shift, stress}
                              : solver::TensilePoint{std::expm1(strain) + shift, stress * std::exp(-strain)});
  return test;
}

/// The same with noise of normal distribution on the stresses, the same on every run.
inline solver::TensileTest with_noise(solver::TensileTest test, double deviation) {
  std::mt19937 source(7);
  for (auto& point : test.points) {
    double sum = 0;  // twelve uniform numbers: the same bits in every library
    for (int i = 0; i < 12; ++i) sum += static_cast<double>(source()) / 4294967296.0;
    point.stress += deviation * (sum - 6);
  }
  return test;
}

}  // namespace halftool::test
