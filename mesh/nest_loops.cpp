#include "mesh/nest_loops.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double sag = 2e-4;  // of the chords that are tried for crossings [mm]

/// A chord of a loop.
struct Chord {
  Vector2d start, end;
  std::size_t loop = 0, place = 0;  ///< number of the loop, and of the chord in it

  [[nodiscard]] double left() const { return std::min(start.x(), end.x()); }
  [[nodiscard]] double right() const { return std::max(start.x(), end.x()); }
};

/// The point that two straight lines have in common, or, where they lie along each other, one of them.
Vector2d meeting_point(const Chord& a, const Chord& b) {
  const Vector2d u = a.end - a.start;
  const Vector2d v = b.end - b.start;
  const double area = cross(u, v);
  if (std::abs(area) < 1e-9 * u.norm() * v.norm()) return b.start;
  return a.start + cross(b.start - a.start, v) / area * u;
}

[[noreturn]] void refuse_crossing(const Chord& a, const Chord& b) {
  const std::string place = in_plane(meeting_point(a, b));
  throw MeshError(a.loop == b.loop ? "the outline crosses or touches itself at " + place +
                                         "; separate the two curves there in the drawing"
                                   : "two loops of the drawing cross or touch at " + place +
                                         "; the outline and its holes must stand apart");
}

/// Neighbours share a point: they must only not run back on each other.
void check_neighbours(const Chord& a, const Chord& b) {
  const Chord& before = a.end == b.start ? a : b;
  const Chord& after = a.end == b.start ? b : a;
  const Vector2d in = (before.end - before.start).normalized();
  const Vector2d out = (after.end - after.start).normalized();
  if (in.dot(out) < 0 && std::abs(cross(in, out)) < 1e-9)
    throw MeshError("the outline runs back on itself at " + in_plane(after.start) +
                    "; delete the spur in the drawing");
}

void check_pair(const Chord& a, const Chord& b, std::size_t n_in_loop) {
  if (a.loop == b.loop) {
    const std::size_t apart = a.place < b.place ? b.place - a.place : a.place - b.place;
    if (apart == 1 || apart + 1 == n_in_loop) return check_neighbours(a, b);
  }
  const auto [a_low, a_high] = std::minmax(a.start.y(), a.end.y());
  const auto [b_low, b_high] = std::minmax(b.start.y(), b.end.y());
  if (a_high < b_low || b_high < a_low) return;
  if (segments_cross(a.start, a.end, b.start, b.end)) refuse_crossing(a, b);
}

void check_crossings(const std::vector<std::vector<Vector2d>>& polygons) {
  std::vector<Chord> chords;
  for (std::size_t k = 0; k < polygons.size(); ++k)
    for (std::size_t i = 0; i < polygons[k].size(); ++i)
      chords.push_back({polygons[k][i], polygons[k][(i + 1) % polygons[k].size()], k, i});
  std::stable_sort(chords.begin(), chords.end(),
                   [](const Chord& a, const Chord& b) { return a.left() < b.left(); });
  for (std::size_t a = 0; a < chords.size(); ++a)
    for (std::size_t b = a + 1; b < chords.size() && chords[b].left() <= chords[a].right(); ++b)
      check_pair(chords[a], chords[b], polygons[chords[a].loop].size());
}

Vector2d middle_of(const Loop& loop) {
  Vector2d low = loop.front().start;
  Vector2d high = low;
  grow_box(loop, low, high);
  return 0.5 * (low + high);
}

[[noreturn]] void refuse_outside(const Loop& outer, const Loop& other) {
  const double share = area_of(other) / area_of(outer);
  constexpr double hole_like = 0.1;  // our judgement: what is smaller is no second blank
  if (share < hole_like)
    throw MeshError("a hole around " + in_plane(middle_of(other)) +
                    " lies outside the outline; move it inside, or delete it");
  throw MeshError("the drawing has two outer loops, around " + in_plane(middle_of(outer)) + " and around " +
                  in_plane(middle_of(other)) + "; keep one blank, or give its layer");
}

void name_pieces(DrawnOutline& outline) {
  for (auto& piece : outline.outer)
    piece.name = piece.spline ? "drawn splines" : piece.centre ? "drawn arcs" : "drawn lines";
  for (std::size_t i = 0; i < outline.holes.size(); ++i)
    for (auto& piece : outline.holes[i]) piece.name = "drawn hole " + std::to_string(i + 1);
}

}  // namespace

std::string in_plane(const Vector2d& x) {
  std::ostringstream text;
  // A zero without sign, and no digits below a tenth of the chaining tolerance.
  const auto rounded = [](double value) { return std::round(value * 1e3) / 1e3 + 0.0; };
  text.precision(7);
  text << "(" << rounded(x.x()) << ", " << rounded(x.y()) << ")";
  return text.str();
}

std::string in_mm(double length) {
  std::ostringstream text;
  text.precision(4);
  text << length << " mm";
  return text.str();
}

DrawnOutline nest_loops(std::vector<Loop> loops) {
  std::stable_sort(loops.begin(), loops.end(),
                   [](const Loop& a, const Loop& b) { return area_of(a) > area_of(b); });
  std::vector<std::vector<Vector2d>> polygons;
  polygons.reserve(loops.size());
  for (const auto& loop : loops) polygons.push_back(as_polygon(loop, sag));
  check_crossings(polygons);
  for (std::size_t i = 1; i < loops.size(); ++i) {
    if (!is_inside(polygons.front(), polygons[i].front())) refuse_outside(loops.front(), loops[i]);
    for (std::size_t j = 1; j < i; ++j)
      if (is_inside(polygons[j], polygons[i].front()))
        throw MeshError("the loop around " + in_plane(middle_of(loops[i])) + " lies inside the hole around " +
                        in_plane(middle_of(loops[j])) + "; a blank is one piece: delete one of the two");
  }
  DrawnOutline outline;
  outline.outer = std::move(loops.front());
  for (std::size_t i = 1; i < loops.size(); ++i) outline.holes.push_back(std::move(loops[i]));
  name_pieces(outline);
  return outline;
}

}  // namespace halftool::mesh
