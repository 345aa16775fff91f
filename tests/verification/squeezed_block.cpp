#include "tests/verification/squeezed_block.hpp"

#include <cmath>
#include <stdexcept>

#include "solver/material/section.hpp"

namespace halftool::test {
namespace {

/// u such that the equivalent stress of [u, v(u)] is the yield stress, in the block's axes.
template <class Across>
double yield_along(const PointSheet& sheet, int axis, double yield, const Across& across) {
  double low = 0;
  double high = 2 * yield;
  for (int i = 0; i < 60; ++i) {
    const double u = 0.5 * (low + high);
    Eigen::Vector3d x = Eigen::Vector3d::Zero();
    x[axis] = u;
    x[1 - axis] = across(u);
    (equivalent_stress(sheet, x) < yield ? low : high) = u;
  }
  return low;
}

/// Stress along of a perfectly plastic sheet whose width is held: the greatest that any stress across allows.
double flow_along(const PointSheet& sheet, int axis, double yield) {
  const auto along = [&](double share) {
    return yield_along(sheet, axis, yield, [&](double u) { return share * u; });
  };
  double low = 0;
  double high = 1;
  for (int i = 0; i < 60; ++i) {
    const double third = (high - low) / 3;
    if (along(low + third) < along(high - third))
      low += third;
    else
      high -= third;
  }
  return along(0.5 * (low + high));
}

}  // namespace

SqueezedBlock stretch_squeezed_block(const PointSheet& sheet, double pressure, bool across_rolling) {
  constexpr double kYield = 250;
  constexpr int kPoints = 5;
  solver::SheetMaterial metal = sheet.material;
  metal.hardening = solver::VoceHardening{kYield, kYield, 0};
  const solver::Section section(metal, kPoints);
  const int axis = across_rolling ? 1 : 0;
  solver::SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = 1;
  frozen.outer_pressure = frozen.inner_pressure = pressure;
  std::vector<solver::PointState> states(kPoints);
  std::vector<solver::PointState> trial(kPoints);
  solver::SectionStrain strain;
  const auto stretch_to = [&](double log_strain) {
    strain.membrane[axis] = 0.5 * std::expm1(2 * log_strain);
    solver::SectionResponse response;
    if (!section.respond(strain, frozen, states.data(), trial.data(), response))
      throw std::runtime_error("squeezed block: no response");
  };
  SqueezedBlock block;
  double low = 0;
  double high = 0.05;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    stretch_to(middle);
    (trial.front().equivalent_plastic_strain > 0 ? high : low) = middle;
  }
  stretch_to(low);
  block.first_yield = section.sample(strain, frozen, trial.data(), 0).stress[axis];
  constexpr int kSteps = 200;
  for (int step = 1; step <= kSteps; ++step) {
    stretch_to(0.1 * step / kSteps);
    states = trial;
  }
  block.flow = section.sample(strain, frozen, states.data(), 0).stress[axis];

  // u = s along + p, v = s across + p. Elastic, width held: v = nu u + p (1 - 2 nu). In flow: no plastic
  // width.
  const double nu = metal.poissons_ratio;
  const double q = pressure * (1 - 2 * nu);
  if (std::holds_alternative<solver::Yld2000>(metal.yield)) {
    block.exact_first_yield =
        yield_along(sheet, axis, kYield, [&](double u) { return nu * u + q; }) - pressure;
    block.exact_flow = flow_along(sheet, axis, kYield) - pressure;
    return block;
  }
  const solver::HillConstants constants = sheet.constants();
  const double along_rolling = constants.G + constants.H;
  const double across_it = constants.F + constants.H;
  const double uu = across_rolling ? across_it : along_rolling;
  const double uv = -constants.H;
  const double vv = across_rolling ? along_rolling : across_it;
  const double a = uu + 2 * uv * nu + vv * nu * nu;
  const double b = q * (uv + vv * nu);
  const double c = vv * q * q - kYield * kYield;
  block.exact_first_yield = (-b + std::sqrt(b * b - a * c)) / a - pressure;
  block.exact_flow = kYield / std::sqrt(uu - uv * uv / vv) - pressure;
  return block;
}

}  // namespace halftool::test
