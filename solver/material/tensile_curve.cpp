#include "solver/material/tensile_curve.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

namespace halftool::solver {
namespace {

struct BothStrains {
  double engineering_strain, engineering_stress, true_strain, true_stress;
};

BothStrains both(const TensilePoint& point, bool true_values) {
  if (!true_values)
    return {point.strain, point.stress, std::log1p(point.strain), point.stress * (1 + point.strain)};
  return {std::expm1(point.strain), point.stress * std::exp(-point.strain), point.strain, point.stress};
}

struct Line {
  double slope = 0;
  double zero = 0;  ///< strain at which it meets zero stress
  int n_points = 0;
};

/// Least squares through the true values of points between two stresses, up to the first point above them.
Line fit_line(const std::vector<BothStrains>& points, double low, double high) {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0;
  for (const BothStrains& p : points) {
    if (p.true_stress > high) break;
    if (p.true_stress < low) continue;
    n += 1;
    x += p.true_strain;
    y += p.true_stress;
  }
  if (n < 2) return {};
  x /= n;
  y /= n;
  for (const BothStrains& p : points) {
    if (p.true_stress > high) break;
    if (p.true_stress < low) continue;
    xx += (p.true_strain - x) * (p.true_strain - x);
    xy += (p.true_strain - x) * (p.true_stress - y);
  }
  if (!(xx > 0) || !(xy > 0)) return {};
  return {xy / xx, x - y * xx / xy, static_cast<int>(n)};
}

double plastic(const BothStrains& p, const Line& elastic) {
  return p.true_strain - elastic.zero - p.true_stress / elastic.slope;
}

/// Where the plastic strain first reaches the offset; nothing if it never does.
std::optional<BothStrains> offset_point(const std::vector<BothStrains>& points, const Line& elastic) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double after = plastic(points[i], elastic), before = plastic(points[i - 1], elastic);
    if (after < kOffsetStrain || before >= kOffsetStrain) continue;
    const double share = (kOffsetStrain - before) / (after - before);
    const auto between = [&](double BothStrains::*value) {
      return points[i - 1].*value + share * (points[i].*value - points[i - 1].*value);
    };
    return BothStrains{between(&BothStrains::engineering_strain), between(&BothStrains::engineering_stress),
                       between(&BothStrains::true_strain), between(&BothStrains::true_stress)};
  }
  return std::nullopt;
}

/// Repeats line and offset yield until the window no longer moves.
Line find_elastic(const std::vector<BothStrains>& points, double greatest, TensileCurve& into) {
  constexpr double lower = 0.1, upper = 0.5;
  constexpr int most_rounds = 50;
  double yield = 0.5 * greatest;
  Line line;
  for (int round = 0; round < most_rounds; ++round) {
    into.elastic_from = lower * yield;
    into.elastic_to = upper * yield;
    line = fit_line(points, into.elastic_from, into.elastic_to);
    if (line.n_points < 3)
      throw std::invalid_argument(
          "no elastic part of at least 3 points between 10 and 50 % of the yield stress");
    const auto offset = offset_point(points, line);
    if (!offset) break;
    if (std::abs(offset->true_stress - yield) <= 1e-12 * yield) break;
    yield = offset->true_stress;
  }
  into.n_elastic = line.n_points;
  constexpr double softest = 1e4, stiffest = 5e5;  // [MPa], wider than any sheet metal
  if (line.slope < softest || line.slope > stiffest)
    throw std::invalid_argument("an elastic slope of " + std::to_string(line.slope / 1000) +
                                " GPa, which no sheet metal has");
  return line;
}

}  // namespace

TensileCurve read_tensile_curve(const TensileTest& test, std::optional<double> modulus) {
  constexpr std::size_t fewest_points = 8, fewest_flow_points = 6;
  if (test.points.size() < fewest_points)
    throw std::invalid_argument(std::to_string(test.points.size()) + " points, too few for a curve");
  std::vector<BothStrains> points;
  for (const TensilePoint& point : test.points) points.push_back(both(point, test.true_values));
  const auto top = std::max_element(points.begin(), points.end(), [](const auto& a, const auto& b) {
    return a.engineering_stress < b.engineering_stress;
  });
  TensileCurve curve;
  curve.tensile_strength = top->engineering_stress;
  curve.n_necked = static_cast<int>(points.end() - top) - 1;
  points.erase(top + 1, points.end());

  Line elastic;
  if (modulus) {
    curve.modulus_given = true;
    elastic.slope = *modulus;
  } else {
    elastic = find_elastic(points, curve.tensile_strength, curve);
  }
  curve.modulus = elastic.slope;
  curve.zero_strain = elastic.zero;
  curve.uniform_strain = points.back().true_strain - elastic.zero;
  const auto offset = offset_point(points, elastic);
  if (!offset) throw std::invalid_argument("no plastic strain of 0.2 % before the greatest load");
  curve.offset_yield = offset->engineering_stress;
  curve.flow.push_back({kOffsetStrain, offset->true_stress});
  for (const BothStrains& p : points)
    if (plastic(p, elastic) > kOffsetStrain * (1 + 1e-9) && p.true_strain > offset->true_strain)
      curve.flow.push_back({plastic(p, elastic), p.true_stress});
  if (curve.flow.size() < fewest_flow_points)
    throw std::invalid_argument("a flow curve of " + std::to_string(curve.flow.size()) +
                                " points between 0.2 % plastic strain and the greatest load, too few to fit");
  return curve;
}

TensileStrengths strengths_of(const Hardening& hardening, double modulus) {
  const auto engineering = [&](double plastic_strain) {
    const double stress = flow_stress(hardening, plastic_strain).stress;
    return stress * std::exp(-plastic_strain - stress / modulus);
  };
  return {engineering(kOffsetStrain), engineering(uniform_strain(hardening))};
}

}  // namespace halftool::solver
