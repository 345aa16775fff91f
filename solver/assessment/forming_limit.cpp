#include "solver/assessment/forming_limit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/material/tensile_curve.hpp"

namespace halftool::solver {
namespace {

constexpr double kLeastModulus = 180e3;  // of a steel [MPa]
constexpr double kMostStrength = 450;    // of a low-carbon one [MPa]
constexpr double kNotJudged = std::numeric_limits<double>::quiet_NaN();

double major_of(const EstimatedLimit& limit, double minor) {
  return minor <= 0 ? limit.plane_strain - minor : limit.plane_strain + limit.right_slope * minor;
}

/// Of a curve that is given by points.
double major_of(const auto& limit, double minor) {
  for (std::size_t i = 0; i + 1 < limit.points.size(); ++i) {
    const Eigen::Vector2d &a = limit.points[i], &b = limit.points[i + 1];
    if (minor < a.x() || minor > b.x()) continue;
    return a.y() + (b.y() - a.y()) * (minor - a.x()) / (b.x() - a.x());
  }
  return kNotJudged;
}

double major_of(const LowerLimit& limit, double minor) {
  return std::fmin(major_of(limit.estimate, minor), major_of(limit.computed, minor));
}

double share_of(const EstimatedLimit& limit, double major, double minor) {
  const double path = std::max(minor / major, -1.0);  // beyond -1 the sheet thickens as it stretches
  // on the path minor = path * major the curve is met where major * (1 - slope * path) = plane_strain
  const double slope = path <= 0 ? -1.0 : limit.right_slope;
  return major * (1 - slope * path) / limit.plane_strain;
}

double share_of(const auto& limit, double major, double minor) {
  const double reach = path_reach(limit.points, {minor, major});
  return std::isfinite(reach) ? 1 / reach : kNotJudged;
}

double share_of(const LowerLimit& limit, double major, double minor) {
  return std::fmax(share_of(limit.estimate, major, minor), share_of(limit.computed, major, minor));
}

}  // namespace

bool is_low_carbon_steel(const SheetMaterial& material) {
  if (material.youngs_modulus < kLeastModulus) return false;
  return strengths_of(tension_curve(material), material.youngs_modulus).tensile_strength <= kMostStrength;
}

EstimatedLimit estimated_limit(const SheetMaterial& material, double thickness) {
  EstimatedLimit limit;
  limit.exponent = uniform_strain(tension_curve(material));
  limit.thickness = thickness;
  const double n = std::min(limit.exponent, EstimatedLimit::kMostExponent);
  const double t = std::min(thickness, EstimatedLimit::kMostThickness);
  const double percent = (23.3 + 14.13 * t) * n / 0.21;
  limit.plane_strain = std::max(kLeastLimit, std::log1p(percent / 100));
  return limit;
}

double limit_major(const FormingLimit& limit, double minor) {
  return std::visit([&](const auto& of) { return major_of(of, minor); }, limit);
}

double limit_share(const FormingLimit& limit, double major, double minor) {
  if (major <= 0) return 0;
  return std::visit([&](const auto& of) { return share_of(of, major, minor); }, limit);
}

Eigen::VectorXd limit_shares(const FormingLimit& limit, const SheetFields& fields) {
  Eigen::VectorXd shares(fields.strain_mid.rows());
  for (Eigen::Index t = 0; t < shares.size(); ++t)
    shares(t) = limit_share(limit, fields.strain_mid(t, 0), fields.strain_mid(t, 1));
  return shares;
}

double path_reach(const std::vector<Eigen::Vector2d>& line, const Eigen::Vector2d& point) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    // a + s (b - a) = r point
    const Eigen::Vector2d side = line[i + 1] - line[i];
    const double cross = point.x() * side.y() - point.y() * side.x();
    if (cross == 0) continue;
    const double r = (line[i].x() * side.y() - line[i].y() * side.x()) / cross;
    const double s = (line[i].x() * point.y() - line[i].y() * point.x()) / cross;
    // A little beyond the ends, so that no ray slips between two segments by rounding.
    if (r > 0 && s >= -1e-9 && s <= 1 + 1e-9) nearest = std::min(nearest, r);
  }
  return nearest;
}

}  // namespace halftool::solver
