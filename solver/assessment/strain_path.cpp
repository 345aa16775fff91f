#include "solver/assessment/strain_path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "solver/material/equivalent_strain.hpp"

namespace halftool::solver {
namespace {

constexpr double kFlows = 1e-9;   // growth of plastic strain that is no rounding
constexpr double kSettled = 0.5;  // straight part of the last strain, over its length; own choice

Eigen::Vector2d principal(const Eigen::Vector3d& strain) {
  const double mean = 0.5 * (strain[0] + strain[1]);
  const double radius = std::hypot(0.5 * (strain[0] - strain[1]), 0.5 * strain[2]);
  return {mean + radius, mean - radius};
}

MovingYield yield_of(const SheetMaterial& material) {
  return moving_yield(
      plane_yield(PlaneModuli(material.youngs_modulus, material.poissons_ratio), material.yield));
}

}  // namespace

StrainPath::StrainPath(const SheetMaterial& material, FormingLimit limit)
    : yield_(yield_of(material)), limit_(std::move(limit)) {}

void StrainPath::follow(Point& point, const Eigen::Vector3d& strain, double plastic) const {
  if (plastic <= point.plastic + kFlows) return;
  point.last.used += equivalent_strain(yield_, strain - point.last.strain);
  point.last.strain = strain;
  point.plastic = plastic;
  if (point.last.used - point.younger.used >= kLastStrain) {
    point.older = point.younger;
    point.younger = point.last;
  }
  const Eigen::Vector3d direction = strain - point.older.strain;
  const double length = equivalent_strain(yield_, direction);
  // just after strain has turned back there is no direction to judge by
  if (length < kSettled * (point.last.used - point.older.used) || length == 0) return;
  const Eigen::Vector2d ends = principal(direction);
  const double share = point.last.used / length * limit_share(limit_, ends[0], ends[1]);
  if (std::isnan(share)) {
    point.judged = point.judged && point.share > 0;
    return;
  }
  point.judged = true;
  point.share = std::max(point.share, share);
}

void StrainPath::add(const SheetFields& fields) {
  const auto n = static_cast<std::size_t>(fields.plastic_mid.size());
  if (points_.empty()) points_.resize(n);
  for (std::size_t t = 0; t < n; ++t) {
    const auto row = static_cast<Eigen::Index>(t);
    const Eigen::Vector3d strain = fields.strain_mid_axes.row(row);
    Point& point = points_[t];
    if (resumes_) {
      const Eigen::Vector3d jump = strain - point.last.strain;
      for (Knot* knot : {&point.last, &point.older, &point.younger}) knot->strain += jump;
      point.plastic = fields.plastic_mid(row);
    } else {
      follow(point, strain, fields.plastic_mid(row));
    }
  }
  resumes_ = false;
}

void StrainPath::trim(const std::vector<int>& parent) {
  if (points_.empty()) return;
  std::vector<Point> kept;
  kept.reserve(parent.size());
  for (const int from : parent) kept.push_back(points_[static_cast<std::size_t>(from)]);
  points_ = std::move(kept);
  resumes_ = true;
}

Eigen::VectorXd StrainPath::shares() const {
  Eigen::VectorXd shares(static_cast<Eigen::Index>(points_.size()));
  for (std::size_t t = 0; t < points_.size(); ++t)
    shares(static_cast<Eigen::Index>(t)) =
        points_[t].judged ? points_[t].share : std::numeric_limits<double>::quiet_NaN();
  return shares;
}

}  // namespace halftool::solver
