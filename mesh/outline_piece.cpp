#include "mesh/outline_piece.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace halftool::mesh {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double chord_turn = 3 * pi / 180;  // [rad]
using Eigen::Vector2d;

double distance_to_line(const Vector2d& start, const Vector2d& end, const Vector2d& x) {
  const Vector2d along = end - start;
  const double s = std::clamp((x - start).dot(along) / along.squaredNorm(), 0.0, 1.0);
  return (x - start - s * along).norm();
}

/// Whether a direction from the centre lies within the sector of an arc of less than half a turn: then it and
/// the arc lie on the same side of both radii.
bool in_sector(const OutlinePiece& arc, const Vector2d& direction) {
  const Vector2d a = arc.start - *arc.centre;
  const Vector2d b = arc.end - *arc.centre;
  const double way = cross(a, b) >= 0 ? 1 : -1;
  return way * cross(a, direction) >= 0 && way * cross(direction, b) >= 0;
}

}  // namespace

Loop circle(const Vector2d& centre, double radius, const std::string& name) {
  const std::array<Vector2d, 4> ends{Vector2d{radius, 0}, Vector2d{0, radius}, Vector2d{-radius, 0},
                                     Vector2d{0, -radius}};
  Loop loop;
  for (std::size_t i = 0; i < 4; ++i)
    loop.push_back({centre + ends[i], centre + ends[(i + 1) % 4], centre, name});
  return loop;
}

double sweep_of(const OutlinePiece& arc) {
  const Vector2d a = arc.start - *arc.centre;
  const Vector2d b = arc.end - *arc.centre;
  return std::atan2(cross(a, b), a.dot(b));
}

Loop placed(Loop loop, double turn, const Vector2d& shift) {
  const Eigen::Matrix2d rotation = Eigen::Rotation2Dd(turn).toRotationMatrix();
  const auto place = [&](Vector2d& x) { x = (shift + rotation * x).eval(); };
  for (auto& piece : loop) {
    place(piece.start);
    place(piece.end);
    if (piece.centre) place(*piece.centre);
    if (!piece.spline) continue;
    for (auto& x : piece.spline->curve.points) place(x);
    for (auto& x : piece.spline->samples.points) place(x);
  }
  return loop;
}

Loop reversed(Loop loop) {
  std::reverse(loop.begin(), loop.end());
  for (auto& piece : loop) {
    std::swap(piece.start, piece.end);
    if (!piece.spline) continue;
    piece.spline->curve = reversed(std::move(piece.spline->curve));
    std::reverse(piece.spline->samples.points.begin(), piece.spline->samples.points.end());
    std::reverse(piece.spline->samples.radius.begin(), piece.spline->samples.radius.end());
  }
  return loop;
}

double distance_to(const OutlinePiece& piece, const Vector2d& x) {
  if (piece.spline) {
    const auto& points = piece.spline->samples.points;
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
      nearest = std::min(nearest, distance_to_line(points[i], points[i + 1], x));
    return nearest;
  }
  if (!piece.centre) return distance_to_line(piece.start, piece.end, x);
  const Vector2d v = x - *piece.centre;
  if (in_sector(piece, v)) return std::abs(v.norm() - piece.radius());
  return std::min((x - piece.start).norm(), (x - piece.end).norm());
}

double distance_to(const Loop& loop, const Vector2d& x) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const auto& piece : loop) nearest = std::min(nearest, distance_to(piece, x));
  return nearest;
}

std::vector<Vector2d> as_polygon(const Loop& loop, double sag) {
  std::vector<Vector2d> polygon;
  for (const auto& piece : loop) {
    polygon.push_back(piece.start);
    if (piece.spline)
      polygon.insert(polygon.end(), piece.spline->samples.points.begin() + 1,
                     piece.spline->samples.points.end() - 1);
    if (!piece.centre) continue;
    const double radius = piece.radius();
    const double step =
        sag > 0 && sag < radius ? std::min(chord_turn, 2 * std::acos(1 - sag / radius)) : chord_turn;
    const double turn = sweep_of(piece);
    const int n = std::max(1, static_cast<int>(std::ceil(std::abs(turn) / step)));
    const Vector2d a = piece.start - *piece.centre;
    for (int i = 1; i < n; ++i) polygon.push_back(*piece.centre + Eigen::Rotation2Dd(turn * i / n) * a);
  }
  return polygon;
}

double length_of(const OutlinePiece& piece) {
  if (piece.centre) return piece.radius() * std::abs(sweep_of(piece));
  if (!piece.spline) return (piece.end - piece.start).norm();
  const auto& points = piece.spline->samples.points;
  double length = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) length += (points[i + 1] - points[i]).norm();
  return length;
}

double area_of(const Loop& loop) {
  double area = 0;
  for (const auto& piece : loop) {
    if (piece.spline) {
      area += swept_area(piece.spline->curve);
      continue;
    }
    area += 0.5 * cross(piece.start, piece.end);
    if (!piece.centre) continue;
    const double sweep = sweep_of(piece);
    area += 0.5 * piece.radius() * piece.radius() * (sweep - std::sin(sweep));
  }
  return area;
}

void grow_box(const Loop& loop, Vector2d& low, Vector2d& high) {
  const auto hold = [&](const Vector2d& x) {
    low = low.cwiseMin(x);
    high = high.cwiseMax(x);
  };
  for (const auto& piece : loop) {
    hold(piece.start);
    if (piece.spline)
      for (const auto& x : piece.spline->samples.points) hold(x);
    if (!piece.centre) continue;
    for (const Vector2d& way : {Vector2d{1, 0}, Vector2d{0, 1}, Vector2d{-1, 0}, Vector2d{0, -1}})
      if (in_sector(piece, way)) hold(*piece.centre + piece.radius() * way);
  }
}

bool is_inside(const std::vector<Vector2d>& polygon, const Vector2d& x) {
  bool inside = false;
  for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
    const Vector2d& a = polygon[i];
    const Vector2d& b = polygon[j];
    if ((a.y() > x.y()) == (b.y() > x.y())) continue;
    if (x.x() < a.x() + (b.x() - a.x()) * (x.y() - a.y()) / (b.y() - a.y())) inside = !inside;
  }
  return inside;
}

bool segments_cross(const Vector2d& a, const Vector2d& b, const Vector2d& c, const Vector2d& d) {
  const double size = std::max((b - a).norm(), (d - c).norm());
  const double tiny = 1e-12 * size * size;
  const double c1 = cross(b - a, c - a), c2 = cross(b - a, d - a);
  const double d1 = cross(d - c, a - c), d2 = cross(d - c, b - c);
  if (std::max(std::abs(c1), std::abs(c2)) <= tiny) {  // on one line: do they overlap?
    const Vector2d along = (b - a).normalized();
    const double low = std::min(along.dot(c - a), along.dot(d - a));
    const double high = std::max(along.dot(c - a), along.dot(d - a));
    return high >= 0 && low <= (b - a).norm();
  }
  return c1 * c2 <= tiny * tiny && d1 * d2 <= tiny * tiny;
}

}  // namespace halftool::mesh
