#include "solver/material/tensile_curve.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>

namespace halftool::solver {
namespace {

std::string digits(double value) {
  std::ostringstream text;
  text.precision(4);
  text << value;
  return text.str();
}

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
  double error = 0;  ///< standard error of the slope, over it
};

/// Least squares through the true values of points between two stresses, up to the first point above them.
Line fit_line(const std::vector<BothStrains>& points, double low, double high) {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
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
    yy += (p.true_stress - y) * (p.true_stress - y);
  }
  if (!(xx > 0) || !(xy > 0)) return {};
  const double left = std::max(0.0, yy - xy * xy / xx);  // squares that the line leaves
  return {xy / xx, x - y * xx / xy, static_cast<int>(n), n > 2 ? std::sqrt(left * xx / (n - 2)) / xy : 0};
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

/// Repeats line and offset yield until the window no longer moves; nothing without three points in it.
std::optional<Line> find_elastic(const std::vector<BothStrains>& points, double greatest,
                                 TensileCurve& into) {
  constexpr double lower = 0.1, upper = 0.5;
  constexpr int most_rounds = 50;
  double yield = 0.5 * greatest;
  Line line;
  for (int round = 0; round < most_rounds; ++round) {
    into.elastic_from = lower * yield;
    into.elastic_to = upper * yield;
    line = fit_line(points, into.elastic_from, into.elastic_to);
    if (line.n_points < 3) return std::nullopt;
    const auto offset = offset_point(points, line);
    if (!offset) break;
    if (std::abs(offset->true_stress - yield) <= 1e-12 * yield) break;
    yield = offset->true_stress;
  }
  into.n_elastic = line.n_points;
  into.slope = line.slope;
  into.slope_error = line.error;
  into.zero_strain = line.zero;
  return line;
}

const std::string more_points = "give more points";
const std::string no_modulus = "give more points, or Young's modulus with --modulus \"70 GPa\"";

Line require_elastic(const std::optional<Line>& line) {
  if (!line)
    throw TensileError("no elastic part of at least 3 points between 10 and 50 % of the yield stress",
                       no_modulus);
  constexpr double softest = 1e4;  // [MPa], wider than any sheet metal
  if (line->slope < softest)
    throw TensileError("an elastic slope of " + digits(line->slope / 1000) + " GPa, which no sheet metal has",
                       "check the units in the headings; where the machine gave, add Young's modulus with "
                       "--modulus \"70 GPa\"");
  return *line;
}

/// A machine that gives softens readings, and nothing stiffens them.
void refuse_stiff(const std::optional<Line>& line) {
  constexpr double stiffest = 5e5;  // [MPa], wider than any sheet metal
  if (line && line->slope > stiffest)
    throw TensileError("an elastic slope of " + digits(line->slope / 1000) + " GPa, which no sheet metal has",
                       "check the units of strain and stress in the headings: are the strains in percent?");
}

/// Behind the greatest load a specimen only gets weaker.
void refuse_lone_peak(const std::vector<BothStrains>& points, std::size_t top) {
  constexpr double noticeable = 0.1, sudden = 0.1, above_noise = 0.01, fractured = 0.3;  // our judgement
  const double greatest = points[top].engineering_stress;
  if (top + 1 == points.size()) return;
  const bool stands_alone = points[top + 1].engineering_stress < (1 - sudden) * greatest;
  double least = greatest;
  for (std::size_t i = top + 1; i < points.size() && least > fractured * greatest; ++i) {
    const double stress = points[i].engineering_stress;
    least = std::min(least, stress);
    if (stress <= least + (stands_alone ? above_noise : noticeable) * greatest) continue;
    throw TensileError("a greatest stress of " + digits(greatest) + " MPa, behind which readings fall to " +
                           digits(least) + " and rise again",
                       "leave out what stands above the curve: a bad reading, or an upper yield point, which "
                       "no hardening law has");
  }
}

/// Plastic strain at the end of a yield plateau that begins at 0.2 %; 0 where there is none.
double plateau_end(const std::vector<BothStrains>& points, const Line& elastic) {
  constexpr double shortest = 0.005, level = 0.01, rise = 0.03;
  std::vector<std::pair<double, double>> flow;  // plastic strain, engineering stress
  for (const BothStrains& p : points)
    if (plastic(p, elastic) >= kOffsetStrain) flow.emplace_back(plastic(p, elastic), p.engineering_stress);
  const auto first_beyond = [&](double strain) {
    return std::find_if(flow.begin(), flow.end(), [&](const auto& p) { return p.first > strain; });
  };
  const auto window = first_beyond(kOffsetStrain + shortest);
  if (window - flow.begin() < 3) return 0;  // too coarse to tell
  double base = 0;
  for (auto p = flow.begin(); p != window; ++p)
    base += p->second / static_cast<double>(window - flow.begin());
  const auto last =
      std::find_if(flow.rbegin(), flow.rend(), [&](const auto& p) { return p.second <= (1 + level) * base; });
  if (last == flow.rend() || last->first - kOffsetStrain < shortest) return 0;
  const auto beyond = first_beyond(2 * last->first - kOffsetStrain);
  const double risen = beyond == flow.end() ? flow.back().second : beyond->second;
  return risen >= (1 + level + rise) * base ? last->first : 0;
}

/// The readings without what the machine gave and where the extensometer began: elastic along the modulus.
/// A machine gives with the force and adds to the length, so both are taken as engineering values.
void take_off_give(std::vector<BothStrains>& points, const TensileCurve& read, double modulus) {
  std::vector<BothStrains> engineering = points;
  for (BothStrains& p : engineering) {
    p.true_strain = p.engineering_strain;
    p.true_stress = p.engineering_stress;
  }
  const Line line = fit_line(engineering, read.elastic_from, read.elastic_to);
  for (BothStrains& p : points) {
    const double give = line.zero + p.engineering_stress * (1 / line.slope - 1 / modulus);
    p = both({p.engineering_strain - give, p.engineering_stress}, false);
  }
}

}  // namespace

TensileCurve read_tensile_curve(const TensileTest& test, std::optional<double> modulus) {
  constexpr std::size_t fewest_points = 8, fewest_flow_points = 6;
  if (test.points.size() < fewest_points)
    throw TensileError(std::to_string(test.points.size()) + " points, too few for a curve", more_points);
  std::vector<BothStrains> points;
  for (const TensilePoint& point : test.points) points.push_back(both(point, test.true_values));
  const auto top = std::max_element(points.begin(), points.end(), [](const auto& a, const auto& b) {
    return a.engineering_stress < b.engineering_stress;
  });
  TensileCurve curve;
  refuse_lone_peak(points, static_cast<std::size_t>(top - points.begin()));
  curve.tensile_strength = top->engineering_stress;
  curve.n_necked = static_cast<int>(points.end() - top) - 1;
  points.erase(top + 1, points.end());

  const auto read = find_elastic(points, curve.tensile_strength, curve);
  refuse_stiff(read);
  curve.modulus_given = modulus.has_value();
  if (modulus && read) take_off_give(points, curve, *modulus);
  const Line elastic = modulus ? Line{*modulus, 0, 0} : require_elastic(read);
  curve.modulus = elastic.slope;
  curve.uniform_strain = points.back().true_strain - elastic.zero;
  const auto offset = offset_point(points, elastic);
  if (!offset)
    throw TensileError("no plastic strain of 0.2 % before the greatest load",
                       "give the test up to its greatest load, and total strain, elastic part included");
  curve.offset_yield = offset->engineering_stress;
  curve.plateau = plateau_end(points, elastic);
  if (curve.plateau == 0) curve.flow.push_back({kOffsetStrain, offset->true_stress});
  const double from = curve.plateau > 0 ? curve.plateau : kOffsetStrain;
  for (const BothStrains& p : points)
    if (plastic(p, elastic) > from * (1 + 1e-9) && p.true_strain > offset->true_strain)
      curve.flow.push_back({plastic(p, elastic), p.true_stress});
  if (curve.flow.size() < fewest_flow_points)
    throw TensileError("a flow curve of " + std::to_string(curve.flow.size()) + " points between " +
                           (curve.plateau > 0 ? "its yield plateau" : "0.2 % plastic strain") +
                           " and the greatest load, too few to fit",
                       more_points);
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
