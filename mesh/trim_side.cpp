#include "mesh/trim_side.hpp"

#include <array>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double chord_sag = 1e-4;    // [mm]
constexpr double touch_share = 1e-6;  // of a box's sides
constexpr double sharp = 0.94;        // cosine of the turn of a line at a corner, 20 degrees

bool meets_box(const Vector2d& a, const Vector2d& b, const Vector2d& c, const Vector2d& d) {
  return (a.cwiseMin(b).array() <= c.cwiseMax(d).array()).all() &&
         (c.cwiseMin(d).array() <= a.cwiseMax(b).array()).all();
}

}  // namespace

TrimSide::TrimSide(const TrimSpec& spec) : spec_(spec) {
  polygons_.push_back(as_polygon(spec.line.outer, chord_sag));
  for (const Loop& hole : spec.line.holes) polygons_.push_back(as_polygon(hole, chord_sag));
}

bool TrimSide::keeps(const Eigen::RowVector3d& x) const {
  return keeps_at(plane(x));
}

bool TrimSide::keeps_at(const Vector2d& at) const {
  bool inside = is_inside(polygons_.front(), at);
  for (std::size_t i = 1; i < polygons_.size(); ++i) inside = inside && !is_inside(polygons_[i], at);
  return inside == spec_.keep_inside;
}

int TrimSide::crossings(const Eigen::RowVector3d& from, const Eigen::RowVector3d& to) const {
  const Vector2d a = plane(from), b = plane(to);
  int n = 0;
  for (const auto& polygon : polygons_) {
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Vector2d& c = polygon[i];
      const Vector2d& d = polygon[(i + 1) % polygon.size()];
      n += meets_box(a, b, c, d) && segments_cross(c, d, a, b);
    }
  }
  return n;
}

BoxSide TrimSide::side_of(const Vector2d& box_low, const Vector2d& box_high) const {
  const Vector2d touch = touch_share * (box_high - box_low), low = box_low + touch, high = box_high - touch;
  const std::array<Vector2d, 4> box{low, Vector2d(high.x(), low.y()), high, Vector2d(low.x(), high.y())};
  const auto is_across = [&](const Vector2d& a, const Vector2d& b) {
    if (!meets_box(a, b, low, high)) return false;
    if ((a.array() >= low.array()).all() && (a.array() <= high.array()).all()) return true;
    for (std::size_t i = 0; i < box.size(); ++i)
      if (segments_cross(box[i], box[(i + 1) % box.size()], a, b)) return true;
    return false;
  };
  for (const auto& polygon : polygons_)
    for (std::size_t i = 0; i < polygon.size(); ++i)
      if (is_across(polygon[i], polygon[(i + 1) % polygon.size()])) return BoxSide::across;
  return keeps_at(low) ? BoxSide::kept : BoxSide::cut_off;
}

std::vector<Vector2d> TrimSide::corners() const {
  std::vector<Vector2d> found;
  for (const auto& polygon : polygons_) {
    const std::size_t n = polygon.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vector2d in = (polygon[i] - polygon[(i + n - 1) % n]).normalized();
      const Vector2d out = (polygon[(i + 1) % n] - polygon[i]).normalized();
      if (in.dot(out) < sharp) found.push_back(polygon[i]);
    }
  }
  return found;
}

Vector2d TrimSide::plane(const Eigen::RowVector3d& x) const {
  return {x(spec_.along == 0 ? 1 : 0), x(spec_.along == 2 ? 1 : 2)};
}

}  // namespace halftool::mesh
