#include "tests/verification/measured_limits.hpp"

#include <cmath>
#include <numbers>

#include "solver/assessment/computed_limit.hpp"

namespace halftool::test {
namespace {

solver::SheetMaterial measured_steel(double rate_exponent) {
  solver::SheetMaterial material;
  material.youngs_modulus = 206000;
  material.poissons_ratio = 0.3;
  material.hardening = solver::SwiftHardening{600.162, 4.23405e-4, 0.255393};
  material.yield = solver::RValues{2.09211, 1.89997, 2.87794};
  material.strain_rate = solver::StrainRate{std::nullopt, std::nullopt, rate_exponent};
  return material;
}

/// Hill (1948): F, G, H, N with a stress of 1 along rolling.
solver::Yld2000Tests tests_of(const solver::RValues& r) {
  const double g = 1 / (1 + r.r0);
  const double h = r.r0 * g;
  const double f = h / r.r90;
  const double n = (r.r45 + 0.5) * (f + g);
  return {6,
          {1, 2 / std::sqrt(f + g + 2 * n), 1 / std::sqrt(f + h), 1 / std::sqrt(f + g)},
          {r.r0, r.r45, r.r90, f / g}};
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

std::vector<LimitStrain> limits_of_measured_paths(double rate_exponent, double fineness) {
  const auto metal = solver::groove_metal(measured_steel(rate_exponent));
  std::vector<LimitStrain> rows;
  for (const Measured& m : kMeasured)
    rows.push_back(
        {m.path, solver::path_limit(metal, m.minor / m.major, m.along, solver::kUsualImperfection, fineness),
         m.major, 0.02});
  return rows;
}

std::vector<LimitStrain> equibiaxial_limits_by_yield(double rate_exponent) {
  solver::SheetMaterial steel = measured_steel(rate_exponent);
  const auto hill = std::get<solver::RValues>(steel.yield);
  const Measured& m = kMeasured[2];
  std::vector<LimitStrain> rows;
  const auto add = [&](const std::string& words, const solver::YieldCondition& yield) {
    steel.yield = yield;
    rows.push_back({words,
                    solver::path_limit(solver::groove_metal(steel), m.minor / m.major, m.along,
                                       solver::kUsualImperfection),
                    m.major, 0.02});
  };
  add("von Mises", solver::VonMises{});
  add("Yld2000-2d of exponent 6, isotropic", solver::Yld2000{6});
  add("Yld2000-2d of exponent 6, fitted to the tests that Hill's condition gives", tests_of(hill));
  return rows;
}

}  // namespace halftool::test
