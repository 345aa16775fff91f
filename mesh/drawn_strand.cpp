#include "mesh/drawn_strand.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double pi = std::numbers::pi;
constexpr std::size_t most_curves = 20000;
constexpr double largest = 1e6;       // a kilometre: no drawing of a blank [mm]
constexpr double same_place = 1e-12;  // an end that was not moved, relative

Vector2d at(const ArcCurve& arc, double angle) {
  return arc.centre + arc.radius * Vector2d(std::cos(angle), std::sin(angle));
}

void require_usable(const std::vector<Vector2d>& points) {
  for (const auto& x : points)
    if (!x.allFinite() || x.cwiseAbs().maxCoeff() > largest)
      throw MeshError("a curve of the drawing lies more than a kilometre away or is not finite; correct it");
}

double polygon_length(const std::vector<Vector2d>& points) {
  double length = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) length += (points[i + 1] - points[i]).norm();
  return length;
}

void add(const LineCurve& line, std::vector<Strand>& strands, LeftOut& left_out) {
  require_usable({line.start, line.end});
  if ((line.end - line.start).norm() < chaining_tolerance)
    ++left_out.n_empty;
  else
    strands.push_back({line, {line.start, line.end}, 0.5 * (line.start + line.end)});
}

void add(const ArcCurve& drawn, std::vector<Strand>& strands, LeftOut& left_out) {
  ArcCurve arc = drawn;
  if (!std::isfinite(arc.radius) || arc.radius < 0 || !std::isfinite(arc.from) || !std::isfinite(arc.sweep))
    throw MeshError("an arc of the drawing has a radius or an angle that makes no arc; correct it");
  require_usable({arc.centre, arc.centre + Vector2d(arc.radius, 0)});
  arc.sweep = std::clamp(arc.sweep, -2 * pi, 2 * pi);
  const bool closed = arc.radius * (2 * pi - std::abs(arc.sweep)) < 1e-9;
  if (arc.radius * std::abs(arc.sweep) < chaining_tolerance)
    ++left_out.n_empty;
  else
    strands.push_back(
        {arc, {at(arc, arc.from), at(arc, arc.from + arc.sweep)}, at(arc, arc.from + arc.sweep / 2), closed});
}

void add(const SplineCurve& spline, std::vector<Strand>& strands, LeftOut& left_out) {
  require_usable(spline.points);
  for (const SplineCurve& part : smooth_parts(spline)) {
    if (polygon_length(part.points) < chaining_tolerance) {
      ++left_out.n_empty;
    } else if (part.degree == 1 && part.points.size() == 2) {
      add(LineCurve{part.points.front(), part.points.back()}, strands, left_out);
    } else {
      const SplineSamples samples = sample(part);
      strands.push_back(
          {part, {part.points.front(), part.points.back()}, samples.points[samples.points.size() / 2]});
    }
  }
}

bool near(const Vector2d& a, const Vector2d& b) {
  return (a - b).norm() < chaining_tolerance;
}

double distance_to_curve(const Strand& strand, const Vector2d& x) {
  const Loop pieces = strand.closed ? circle(std::get<ArcCurve>(strand.curve).centre,
                                             std::get<ArcCurve>(strand.curve).radius, "")
                                    : pieces_of(strand);
  return distance_to(pieces, x);
}

/// Whether two strands are the same curve, run the same or the other way.
bool is_same(const Strand& a, const Strand& b) {
  if (a.closed != b.closed) return false;
  if (a.closed) {
    const auto& p = std::get<ArcCurve>(a.curve);
    const auto& q = std::get<ArcCurve>(b.curve);
    return near(p.centre, q.centre) && std::abs(p.radius - q.radius) < chaining_tolerance;
  }
  const bool along = near(a.ends[0], b.ends[0]) && near(a.ends[1], b.ends[1]);
  const bool against = near(a.ends[0], b.ends[1]) && near(a.ends[1], b.ends[0]);
  return (along || against) && distance_to_curve(a, b.middle) < chaining_tolerance &&
         distance_to_curve(b, a.middle) < chaining_tolerance;
}

void drop_duplicates(std::vector<Strand>& strands, LeftOut& left_out) {
  // By the middle of the box of the ends, which does not know the direction.
  const auto key = [](const Strand& s) {
    return s.closed ? std::get<ArcCurve>(s.curve).centre.x() : 0.5 * (s.ends[0].x() + s.ends[1].x());
  };
  std::vector<std::size_t> order(strands.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t i, std::size_t j) { return key(strands[i]) < key(strands[j]); });
  std::vector<bool> dropped(strands.size(), false);
  for (std::size_t a = 0; a < order.size(); ++a) {
    if (dropped[order[a]]) continue;
    for (std::size_t b = a + 1; b < order.size(); ++b) {
      if (key(strands[order[b]]) - key(strands[order[a]]) > chaining_tolerance) break;
      if (!dropped[order[b]] && is_same(strands[order[a]], strands[order[b]])) dropped[order[b]] = true;
    }
  }
  std::vector<Strand> kept;
  for (std::size_t i = 0; i < strands.size(); ++i)
    if (!dropped[i]) kept.push_back(std::move(strands[i]));
  left_out.n_duplicates += static_cast<int>(strands.size() - kept.size());
  strands = std::move(kept);
}

/// Parts of at most a quarter turn.
Loop arc_pieces(const Vector2d& start, const Vector2d& end, const Vector2d& centre, double sweep) {
  const int n = std::max(1, static_cast<int>(std::ceil(std::abs(sweep) / (pi / 2) - 1e-9)));
  Loop pieces;
  Vector2d from = start;
  for (int i = 1; i <= n; ++i) {
    const Vector2d to = i == n ? end : centre + Eigen::Rotation2Dd(sweep * i / n) * (start - centre);
    pieces.push_back({from, to, centre, ""});
    from = to;
  }
  return pieces;
}

}  // namespace

ArcCurve arc_through(const Vector2d& start, const Vector2d& end, double sweep) {
  const Vector2d half = 0.5 * (end - start);
  const Vector2d centre = 0.5 * (start + end) + Vector2d(-half.y(), half.x()) / std::tan(sweep / 2);
  const Vector2d first = start - centre;
  return {centre, first.norm(), std::atan2(first.y(), first.x()), sweep};
}

std::vector<Strand> strands_of(const std::vector<PlaneCurve>& curves, LeftOut& left_out) {
  if (curves.size() > most_curves)
    throw MeshError("the drawing holds " + std::to_string(curves.size()) +
                    " curves, at most 20000 are read; is it the drawing of one blank?");
  std::vector<Strand> strands;
  for (const PlaneCurve& curve : curves)
    std::visit([&](const auto& kind) { add(kind, strands, left_out); }, curve);
  drop_duplicates(strands, left_out);
  return strands;
}

Loop pieces_of(const Strand& strand) {
  const Vector2d& start = strand.ends[0];
  const Vector2d& end = strand.ends[1];
  if (const auto* arc = std::get_if<ArcCurve>(&strand.curve)) {
    const double small = same_place * (arc->radius + arc->centre.norm());
    const bool moved = (at(*arc, arc->from) - start).norm() > small ||
                       (at(*arc, arc->from + arc->sweep) - end).norm() > small;
    return arc_pieces(start, end, moved ? arc_through(start, end, arc->sweep).centre : arc->centre,
                      arc->sweep);
  }
  if (const auto* spline = std::get_if<SplineCurve>(&strand.curve)) {
    SplineCurve curve = *spline;
    curve.points.front() = start;
    curve.points.back() = end;
    return {{start, end, std::nullopt, "", OutlineSpline{curve, sample(curve)}}};
  }
  return {{start, end, std::nullopt, ""}};
}

}  // namespace halftool::mesh
