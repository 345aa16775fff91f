#include "mesh/outline.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

template <typename... Parts>
[[noreturn]] void refuse(const Parts&... parts) {
  std::ostringstream text;
  (text << ... << parts);
  throw MeshError(text.str());
}

std::string at(const Vector2d& x) {
  std::ostringstream text;
  text << "(" << x.x() << ", " << x.y() << ")";
  return text.str();
}

void require_positive(const std::string& what, double value) {
  if (!(std::isfinite(value) && value > 0)) refuse(what, " is ", value, " mm; give a length above zero");
}

/// Each corner on its own: a number, apart from the next one, and not a turn by half a circle.
void check_each_corner(const std::vector<Vector2d>& corners) {
  const std::size_t n = corners.size();
  if (n < 3) refuse("the outline of the blank has ", n, " corners; a polygon needs at least 3");
  for (std::size_t i = 0; i < n; ++i) {
    const Vector2d& a = corners[i];
    const Vector2d& b = corners[(i + 1) % n];
    if (!a.allFinite()) refuse("corner ", i + 1, " of the blank is not a number");
    if ((b - a).norm() < 1e-6) {
      refuse("corners ", i + 1, " and ", (i + 1) % n + 1, " of the blank are the same point ", at(a),
             "; leave one out");
    }
    const Vector2d& c = corners[(i + 2) % n];
    const double scale = (b - a).norm() * (c - b).norm();
    if (std::abs(cross(b - a, c - b)) <= 1e-12 * scale && (b - a).dot(c - b) < 0) {
      refuse("the outline of the blank runs back on itself at corner ", (i + 1) % n + 1, " ", at(b),
             "; move that corner");
    }
  }
}

void check_crossings(const std::vector<Vector2d>& corners) {
  const std::size_t n = corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;
      if (!segments_cross(corners[i], corners[(i + 1) % n], corners[j], corners[(j + 1) % n])) continue;
      refuse("the outline of the blank crosses itself: the side from corner ", i + 1, " ", at(corners[i]),
             " meets the side from corner ", j + 1, " ", at(corners[j]),
             "; list the corners in order around the blank");
    }
  }
}

double signed_area(const std::vector<Vector2d>& corners) {
  double area = 0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    area += 0.5 * cross(corners[i], corners[(i + 1) % corners.size()]);
  return area;
}

/// Length that a corner's radius takes from each of the two sides there.
double setback(const Vector2d& before, const Vector2d& corner, const Vector2d& after, double radius) {
  const Vector2d in = (corner - before).normalized();
  const Vector2d out = (after - corner).normalized();
  return radius * std::tan(0.5 * std::abs(std::atan2(cross(in, out), in.dot(out))));
}

std::vector<double> setbacks(const std::vector<Vector2d>& corners, const std::vector<double>& radii) {
  const std::size_t n = corners.size();
  std::vector<double> result(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    if (!(std::isfinite(radii[i]) && radii[i] >= 0))
      refuse("the radius of corner ", i + 1, " of the blank is ", radii[i], " mm; give zero or more");
    result[i] = setback(corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n], radii[i]);
  }
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t j = (i + 1) % n;
    const double side = (corners[j] - corners[i]).norm();
    if (result[i] + result[j] > side * (1 + 1e-9)) {
      const std::size_t worse = result[i] >= result[j] ? i : j;
      refuse("the radius of ", radii[worse], " mm at corner ", worse + 1,
             " of the blank is too large: corners ", i + 1, " and ", j + 1, " need ", result[i] + result[j],
             " mm of a side that is ", side, " mm long; make the radius smaller");
    }
  }
  return result;
}

/// A polygon with rounded corners, counter-clockwise.
Loop rounded_polygon(std::vector<Vector2d> corners, std::vector<double> radii) {
  check_each_corner(corners);
  check_crossings(corners);
  if (radii.empty()) radii.assign(corners.size(), 0.0);
  if (radii.size() != corners.size()) {
    refuse("the blank has ", corners.size(), " corners but ", radii.size(),
           " corner radii; give one for each corner, or none");
  }
  const std::vector<double> cut = setbacks(corners, radii);
  const std::size_t n = corners.size();
  Loop loop;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t next = (i + 1) % n;
    const Vector2d in = (corners[i] - corners[(i + n - 1) % n]).normalized();
    const Vector2d out = (corners[next] - corners[i]).normalized();
    const std::string name = "corner " + std::to_string(i + 1);
    const Vector2d arc_start = corners[i] - cut[i] * in;
    const Vector2d arc_end = corners[i] + cut[i] * out;
    if (cut[i] > 1e-9) {
      const double side = cross(in, out) > 0 ? 1 : -1;
      loop.push_back({arc_start, arc_end, arc_start + side * radii[i] * Vector2d(-in.y(), in.x()), name});
    }
    const Vector2d line_end = corners[next] - cut[next] * out;
    if ((line_end - arc_end).norm() > 1e-9)
      loop.push_back({arc_end, line_end, std::nullopt, "side " + std::to_string(i + 1)});
  }
  if (signed_area(corners) < 0) {
    std::reverse(loop.begin(), loop.end());
    for (auto& piece : loop) std::swap(piece.start, piece.end);
  }
  return loop;
}

Loop outer_loop(const Outline& outline, double& smaller_extent) {
  if (const auto* rectangle = std::get_if<RectangleOutline>(&outline)) {
    require_positive("the length of the blank", rectangle->length);
    require_positive("the width of the blank", rectangle->width);
    const double a = rectangle->length / 2;
    const double b = rectangle->width / 2;
    smaller_extent = 2 * std::min(a, b);
    return rounded_polygon({{-a, -b}, {a, -b}, {a, b}, {-a, b}},
                           std::vector<double>(4, rectangle->corner_radius));
  }
  if (const auto* disc = std::get_if<CircleOutline>(&outline)) {
    require_positive("the radius of the blank", disc->radius);
    smaller_extent = 2 * disc->radius;
    return circle(Vector2d::Zero(), disc->radius, "rim");
  }
  if (const auto* drawn = std::get_if<DrawnOutline>(&outline)) {
    if (drawn->outer.empty()) refuse("the drawn outline of the blank is empty; read a drawing first");
    Vector2d low = drawn->outer.front().start;
    Vector2d high = low;
    grow_box(drawn->outer, low, high);
    smaller_extent = (high - low).minCoeff();
    return drawn->outer;
  }
  const auto& polygon = std::get<PolygonOutline>(outline);
  Loop loop = rounded_polygon(polygon.corners, polygon.corner_radii);
  Vector2d low = polygon.corners.front();
  Vector2d high = low;
  for (const auto& corner : polygon.corners) {
    low = low.cwiseMin(corner);
    high = high.cwiseMax(corner);
  }
  smaller_extent = (high - low).minCoeff();
  return loop;
}

void check_holes(const std::vector<Hole>& holes, const Loop& outer) {
  const auto polygon = as_polygon(outer);
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const Hole& hole = holes[i];
    require_positive("the radius of hole " + std::to_string(i + 1) + " of the blank", hole.radius);
    if (!is_inside(polygon, hole.centre) || distance_to(outer, hole.centre) <= hole.radius * (1 + 1e-9)) {
      refuse("hole ", i + 1, " at ", at(hole.centre), " with radius ", hole.radius,
             " mm does not lie inside the blank; move it, make it smaller, or draw the notch as part of the "
             "outline");
    }
    for (std::size_t j = 0; j < i; ++j) {
      if ((holes[j].centre - hole.centre).norm() <= (holes[j].radius + hole.radius) * (1 + 1e-9)) {
        refuse("holes ", j + 1, " and ", i + 1, " of the blank overlap at ", at(hole.centre),
               "; move one or make it smaller");
      }
    }
  }
}

void check_against_drawn(const std::vector<Hole>& holes, const std::vector<Loop>& drawn) {
  for (std::size_t i = 0; i < holes.size(); ++i) {
    for (const Loop& other : drawn) {
      if (!is_inside(as_polygon(other), holes[i].centre) &&
          distance_to(other, holes[i].centre) > holes[i].radius * (1 + 1e-9) &&
          (other.front().start - holes[i].centre).norm() > holes[i].radius)
        continue;
      refuse("hole ", i + 1, " of the blank overlaps a drawn hole at ", at(other.front().start),
             "; move it, or leave it out");
    }
  }
}

}  // namespace

PlacedOutline place_outline(const BlankSpec& spec) {
  PlacedOutline placed;
  const Loop outer = outer_loop(spec.outline, placed.smaller_extent);
  std::vector<Loop> holes;
  for (std::size_t i = 0; i < spec.holes.size(); ++i)
    holes.push_back(circle(spec.holes[i].centre, spec.holes[i].radius, "hole " + std::to_string(i + 1)));
  check_holes(spec.holes, outer);
  if (const auto* drawn = std::get_if<DrawnOutline>(&spec.outline)) {
    check_against_drawn(spec.holes, drawn->holes);
    holes.insert(holes.end(), drawn->holes.begin(), drawn->holes.end());
  }
  placed.outer = mesh::placed(outer, spec.turn, spec.place);
  for (const auto& hole : holes) placed.holes.push_back(mesh::placed(hole, spec.turn, spec.place));
  placed.low = placed.high = placed.outer.front().start;
  grow_box(placed.outer, placed.low, placed.high);
  return placed;
}

}  // namespace halftool::mesh
