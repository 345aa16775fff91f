#include "solver/assessment/computed_limit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>

#include "solver/material/yield_test.hpp"

namespace halftool::solver {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kNone = std::numeric_limits<double>::infinity();

/// Steps follow the hardening: a metal of small uniform strain necks early.
GrooveSteps steps_of(const GrooveMetal& metal, double fineness) {
  const double uniform = std::visit(
      [](const auto& curve) {
        double strain = 1e-3;
        while (strain < 0.5 && flow_stress(curve, strain).slope > flow_stress(curve, strain).stress)
          strain *= 1.25;
        return strain;
      },
      metal.curve);
  // A metal of high rate sensitivity goes on long after its groove begins to grow.
  const double reach = GrooveSteps().enough + 10 * metal.rate_exponent;
  return {std::max(uniform / 40, 2e-4) / fineness, GrooveSteps().share / fineness, reach, reach};
}

/// Least value of a function between two ends, where it has one valley.
template <class Function>
double valley(const Function& f, double low, double high) {
  constexpr double kShare = 0.6180339887498949;
  constexpr double kNear = 2e-3;  // radians; the valley is flat
  double a = high - kShare * (high - low);
  double b = low + kShare * (high - low);
  double at_a = f(a);
  double at_b = f(b);
  while (high - low > kNear) {
    if (at_a < at_b) {
      high = b;
      b = a;
      at_b = at_a;
      at_a = f(a = high - kShare * (high - low));
    } else {
      low = a;
      a = b;
      at_a = at_b;
      at_b = f(b = low + kShare * (high - low));
    }
  }
  return std::min(at_a, at_b);
}

/// Minor over major strain of uniaxial tension.
double uniaxial_ratio(const YieldCondition& yield, double along) {
  const double r = tension_test(yield, along).r_value;
  return -r / (1 + r);
}

}  // namespace

GrooveMetal groove_metal(const SheetMaterial& material, double normal_pressure) {
  require_sound(material);
  const PlaneModuli moduli(material.youngs_modulus, material.poissons_ratio);
  return {moving_yield(plane_yield(moduli, material.yield)), flow_curve(tension_curve(material)),
          std::max(0.0, rate_exponent(material)), normal_pressure};
}

double most_normal_pressure(const SheetMaterial& material) {
  constexpr double kProof = 0.002;
  return std::visit([](const auto& curve) { return flow_stress(curve, kProof).stress; },
                    flow_curve(tension_curve(material)));
}

double path_limit(const GrooveMetal& metal, double ratio, double along, double imperfection,
                  double fineness) {
  const StraightPath path = straight_path(metal.yield, ratio, along);
  GrooveSteps steps = steps_of(metal, fineness);
  const double enough = steps.enough;
  const auto limit = [&](double turn) {
    return path.major * groove_limit(metal, path, {imperfection, turn}, steps).value_or(kNone);
  };
  constexpr int kLooks = 10;
  constexpr double kFarthest = 0.7 * kQuarter;  // no line of zero extension lies beyond while ratio > -0.8
  std::array<double, kLooks + 1> looks{};
  for (int i = 0; i <= kLooks; ++i) {
    looks.at(i) = limit(kFarthest * i / kLooks);
    steps.enough = std::min(steps.enough, 1.01 * looks.at(i) / path.major);  // others are no lower
  }
  steps.enough = enough;
  const auto best = std::min_element(looks.begin(), looks.end());
  const auto at = static_cast<int>(best - looks.begin());
  const double spacing = kFarthest / kLooks;
  const double found = valley(limit, std::max(0, at - 1) * spacing, std::min(kLooks, at + 1) * spacing);
  const double least = std::min(*best, found);
  if (!std::isfinite(least))
    throw std::runtime_error("no groove finds its balance on the path of strain ratio " +
                             std::to_string(ratio));
  return least;
}

namespace {

void require_imperfection(double imperfection) {
  if (!(imperfection > 0 && imperfection < 0.5))
    throw std::invalid_argument("imperfection must be above 0 and below 0.5, found " +
                                std::to_string(imperfection));
}

/// The lower of major strain along and across rolling; the same for von Mises.
double lower_limit(const GrooveMetal& metal, const SheetMaterial& material, double ratio, double imperfection,
                   double fineness) {
  double major = path_limit(metal, ratio, 0, imperfection, fineness);
  if (!std::holds_alternative<VonMises>(material.yield))
    major = std::min(major, path_limit(metal, ratio, kQuarter, imperfection, fineness));
  return std::max(major, kLeastLimit);
}

std::vector<Eigen::Vector2d> limit_points(const SheetMaterial& material, double imperfection, double fineness,
                                          double normal_pressure) {
  constexpr double kBeyond = 0.1;
  constexpr double kSpacing = 0.05;
  const GrooveMetal metal = groove_metal(material, normal_pressure);
  const double tension =
      std::min(uniaxial_ratio(material.yield, 0), uniaxial_ratio(material.yield, kQuarter));
  const int n_left = static_cast<int>(std::ceil((kBeyond - tension) / kSpacing));
  const int n_right = static_cast<int>(std::lround(1 / kSpacing));
  std::vector<Eigen::Vector2d> points;
  for (int i = -n_left; i <= n_right; ++i) {
    const double ratio = kSpacing * i;
    const double major = lower_limit(metal, material, ratio, imperfection, fineness);
    points.emplace_back(ratio * major, major);
  }
  return points;
}

}  // namespace

double computed_plane_strain(const SheetMaterial& material, double imperfection) {
  require_imperfection(imperfection);
  return lower_limit(groove_metal(material), material, 0, imperfection, 1);
}

ComputedLimit computed_limit(const SheetMaterial& material, double imperfection, double fineness,
                             double normal_pressure) {
  require_imperfection(imperfection);
  const double most = most_normal_pressure(material);
  if (!(normal_pressure >= 0 && normal_pressure <= most))
    throw std::invalid_argument("normal pressure must lie between 0 and the proof stress, " +
                                std::to_string(most) + " MPa, found " + std::to_string(normal_pressure));
  ComputedLimit curve{imperfection,
                      limit_points(material, imperfection, fineness, normal_pressure),
                      groove_metal(material).rate_exponent,
                      normal_pressure,
                      {}};
  if (normal_pressure > 0) curve.unpressed = limit_points(material, imperfection, fineness, 0);
  return curve;
}

}  // namespace halftool::solver
