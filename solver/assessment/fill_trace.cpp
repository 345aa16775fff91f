#include "solver/assessment/fill_trace.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "solver/assessment/pressure_between.hpp"

namespace halftool::solver {
namespace {

constexpr double kFilled = 0.02;  // of the thickness

struct Corners {
  Eigen::Vector3d a, b, c;
  Corners(const SheetFields& fields, Eigen::Index triangle)
      : a(fields.positions.row(fields.triangles(triangle, 0))),
        b(fields.positions.row(fields.triangles(triangle, 1))),
        c(fields.positions.row(fields.triangles(triangle, 2))) {}
  [[nodiscard]] Eigen::Vector3d centre() const { return (a + b + c) / 3; }
  [[nodiscard]] double size() const { return std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()}); }
};

Eigen::Index nearest_triangle(const SheetFields& fields, const Eigen::Vector3d& at) {
  Eigen::Index nearest = 0;
  double best = std::numeric_limits<double>::infinity();
  for (Eigen::Index t = 0; t < fields.triangles.rows(); ++t) {
    const double distance = (Corners(fields, t).centre() - at).squaredNorm();
    if (distance < best) {
      best = distance;
      nearest = t;
    }
  }
  return nearest;
}

/// Between a place of the tool and the tool face of the sheet. Where the sheet lies over the place this is
/// its gap, which knows the curved sheet; elsewhere the sheet has not come there.
double stand_off(const SheetFields& fields, const Eigen::Vector3d& at) {
  const Eigen::Index t = nearest_triangle(fields, at);
  const Corners corners(fields, t);
  const double distance = (corners.centre() - at).norm();
  const double from_middle = fields.gap(t) + 0.5 * fields.thickness(t);
  const double aside2 = distance * distance - from_middle * from_middle;
  const bool lies_over = aside2 <= corners.size() * corners.size();
  return lies_over ? fields.gap(t) : distance - 0.5 * fields.thickness(t);
}

}  // namespace

FillTrace::FillTrace(std::vector<RadiusToFill> radii, double thickness, bool symmetric_x, bool symmetric_y)
    : radii_(std::move(radii)), fillings_(radii_.size()), thickness_(thickness) {
  for (RadiusToFill& radius : radii_) {
    Eigen::Vector3d& at = radius.hollow.at;
    if (symmetric_x) at.x() = std::abs(at.x());
    if (symmetric_y) at.y() = std::abs(at.y());
  }
}

void FillTrace::add(const SheetFields& fields) {
  const double limit = kFilled * thickness_;
  for (std::size_t i = 0; i < radii_.size(); ++i) {
    Filling& filling = fillings_[i];
    const double before = filling.stand_off;
    filling.stand_off = stand_off(fields, radii_[i].hollow.at);
    filling.is_filled = filling.stand_off <= limit;
    if (!filling.is_filled && fields.pressure >= filling.pressure)
      filling.pressure = std::numeric_limits<double>::quiet_NaN();
    if (filling.is_filled && std::isnan(filling.pressure))
      filling.pressure =
          pressure_between({last_pressure_, before}, {fields.pressure, filling.stand_off}, limit);
  }
  last_pressure_ = fields.pressure;
}

}  // namespace halftool::solver
