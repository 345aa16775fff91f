#include "mesh/spline_curve.hpp"

#include <GCPnts_TangentialDeflection.hxx>
#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Standard_Failure.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {
namespace {

using Curve = opencascade::handle<Geom2d_BSplineCurve>;
using Eigen::Vector2d;

constexpr double pi = std::numbers::pi;
constexpr double sag = 2e-4;                 // [mm]
constexpr double chord_turn = 3 * pi / 180;  // [rad]
constexpr double kink = 0.5 * pi / 180;      // a turn of the tangent that deserves a node [rad]
constexpr double closed_within = 1e-7;       // [mm]
constexpr int highest_degree = 25;           // of the CAD kernel

[[noreturn]] void refuse(const std::string& what) {
  throw MeshError("a spline " + what + "; draw it anew, or convert it to arcs and lines");
}

void check(const SplineCurve& curve) {
  const std::size_t n = curve.points.size();
  if (curve.degree < 1 || curve.degree > highest_degree)
    refuse("has degree " + std::to_string(curve.degree) + ", 1 to 25 can be read");
  if (n < static_cast<std::size_t>(curve.degree) + 1)
    refuse("of degree " + std::to_string(curve.degree) + " has " + std::to_string(n) + " control points");
  if (curve.knots.size() != n + static_cast<std::size_t>(curve.degree) + 1)
    refuse("has " + std::to_string(curve.knots.size()) + " knots for " + std::to_string(n) +
           " control points of degree " + std::to_string(curve.degree));
  if (!curve.weights.empty() && curve.weights.size() != n) refuse("has not one weight a control point");
  const auto is_finite = [](double x) { return std::isfinite(x); };
  const bool finite =
      std::all_of(curve.knots.begin(), curve.knots.end(), is_finite) &&
      std::all_of(curve.points.begin(), curve.points.end(), [](const Vector2d& x) { return x.allFinite(); });
  if (!finite) refuse("holds a number that is not finite");
  if (!std::is_sorted(curve.knots.begin(), curve.knots.end())) refuse("has knots that fall");
  if (std::any_of(curve.weights.begin(), curve.weights.end(),
                  [](double w) { return !(std::isfinite(w) && w > 0); }))
    refuse("has a weight that is not above zero");
}

/// Knots that differ by rounding are one knot.
void gather_knots(const std::vector<double>& knots, std::vector<double>& values,
                  std::vector<int>& multiplicity) {
  const double same = 1e-10 * std::max(knots.back() - knots.front(), std::numeric_limits<double>::min());
  for (const double knot : knots) {
    if (!values.empty() && knot - values.back() <= same) {
      ++multiplicity.back();
    } else {
      values.push_back(knot);
      multiplicity.push_back(1);
    }
  }
}

Curve in_kernel(const SplineCurve& curve) {
  std::vector<double> values;
  std::vector<int> counts;
  gather_knots(curve.knots, values, counts);
  const int n = static_cast<int>(curve.points.size());
  const int m = static_cast<int>(values.size());
  TColgp_Array1OfPnt2d poles(1, n);
  TColStd_Array1OfReal weights(1, n), knots(1, m);
  TColStd_Array1OfInteger multiplicities(1, m);
  for (int i = 0; i < n; ++i) {
    const auto k = static_cast<std::size_t>(i);
    poles.SetValue(i + 1, gp_Pnt2d(curve.points[k].x(), curve.points[k].y()));
    weights.SetValue(i + 1, curve.weights.empty() ? 1.0 : curve.weights[k]);
  }
  for (int i = 0; i < m; ++i) {
    knots.SetValue(i + 1, values[static_cast<std::size_t>(i)]);
    multiplicities.SetValue(i + 1, counts[static_cast<std::size_t>(i)]);
  }
  try {
    return new Geom2d_BSplineCurve(poles, weights, knots, multiplicities, curve.degree);
  } catch (const Standard_Failure&) {
    refuse("has knots that do not make a curve");
  }
}

SplineCurve from_kernel(const Curve& curve) {
  SplineCurve result{curve->Degree(), {}, {}};
  for (int i = 1; i <= curve->NbKnots(); ++i)
    result.knots.insert(result.knots.end(), static_cast<std::size_t>(curve->Multiplicity(i)), curve->Knot(i));
  for (int i = 1; i <= curve->NbPoles(); ++i) {
    result.points.emplace_back(curve->Pole(i).X(), curve->Pole(i).Y());
    if (curve->IsRational()) result.weights.push_back(curve->Weight(i));
  }
  return result;
}

Vector2d at(const Curve& curve, double u) {
  const gp_Pnt2d x = curve->Value(u);
  return {x.X(), x.Y()};
}

/// Angle by which the tangent turns at a knot [rad].
double turn_at(const Curve& curve, int knot) {
  if (curve->Multiplicity(knot) < curve->Degree()) return 0;
  gp_Pnt2d x;
  gp_Vec2d before, after;
  curve->LocalD1(curve->Knot(knot), knot - 1, knot, x, before);
  curve->LocalD1(curve->Knot(knot), knot, knot + 1, x, after);
  if (before.Magnitude() <= 0 || after.Magnitude() <= 0) return pi;
  return std::abs(before.Angle(after));
}

/// Parameters at which the curve begins, is cut and ends.
std::vector<double> cuts_of(const Curve& curve) {
  const int first = curve->FirstUKnotIndex();
  const int last = curve->LastUKnotIndex();
  std::vector<double> cuts{curve->Knot(first)};
  for (int k = first + 1; k < last; ++k)
    if (turn_at(curve, k) > kink) cuts.push_back(curve->Knot(k));
  cuts.push_back(curve->Knot(last));
  const bool closed = (at(curve, cuts.front()) - at(curve, cuts.back())).norm() <= closed_within;
  if (closed && cuts.size() == 2) cuts.insert(cuts.begin() + 1, 0.5 * (cuts.front() + cuts.back()));
  return cuts;
}

double radius_at(const Curve& curve, double u) {
  gp_Pnt2d x;
  gp_Vec2d d1, d2;
  curve->D2(u, x, d1, d2);
  const double bend = std::abs(d1.Crossed(d2));
  const double speed = d1.Magnitude();
  const double infinite = std::numeric_limits<double>::infinity();
  return bend <= 1e-12 * speed * speed * speed ? infinite : speed * speed * speed / bend;
}

}  // namespace

std::vector<SplineCurve> smooth_parts(const SplineCurve& curve) {
  check(curve);
  try {
    const Curve whole = in_kernel(curve);
    const std::vector<double> cuts = cuts_of(whole);
    std::vector<SplineCurve> parts;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      const Curve part = Curve::DownCast(whole->Copy());
      part->Segment(cuts[i], cuts[i + 1]);
      parts.push_back(from_kernel(part));
    }
    return parts;
  } catch (const Standard_Failure&) {
    refuse("cannot be cut into smooth parts");
  }
}

SplineSamples sample(const SplineCurve& curve) {
  try {
    const Curve kernel_curve = in_kernel(curve);
    const GCPnts_TangentialDeflection chords(Geom2dAdaptor_Curve(kernel_curve), chord_turn, sag);
    SplineSamples samples;
    for (int i = 1; i <= chords.NbPoints(); ++i) {
      samples.points.push_back(at(kernel_curve, chords.Parameter(i)));
      samples.radius.push_back(radius_at(kernel_curve, chords.Parameter(i)));
    }
    samples.points.front() = curve.points.front();
    samples.points.back() = curve.points.back();
    return samples;
  } catch (const Standard_Failure&) {
    refuse("cannot be followed");
  }
}

double swept_area(const SplineCurve& curve) {
  // Gauss-Legendre rule of 8 points (from memory; checked against ellipses in the tests).
  constexpr std::array<double, 4> place{0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                        0.9602898564975363};
  constexpr std::array<double, 4> weight{0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                         0.1012285362903763};
  const Curve kernel_curve = in_kernel(curve);
  double area = 0;
  for (int k = 1; k < kernel_curve->NbKnots(); ++k) {
    const double half = 0.5 * (kernel_curve->Knot(k + 1) - kernel_curve->Knot(k));
    const double middle = kernel_curve->Knot(k) + half;
    for (std::size_t i = 0; i < place.size(); ++i) {
      for (const double side : {-1.0, 1.0}) {
        gp_Pnt2d x;
        gp_Vec2d d;
        kernel_curve->D1(middle + side * place[i] * half, x, d);
        area += 0.5 * weight[i] * half * (x.X() * d.Y() - x.Y() * d.X());
      }
    }
  }
  return area;
}

SplineCurve reversed(SplineCurve curve) {
  const double sum = curve.knots.front() + curve.knots.back();
  std::reverse(curve.knots.begin(), curve.knots.end());
  for (double& knot : curve.knots) knot = sum - knot;
  std::reverse(curve.points.begin(), curve.points.end());
  std::reverse(curve.weights.begin(), curve.weights.end());
  return curve;
}

SplineCurve ellipse_arc(const Vector2d& centre, const Vector2d& major, double ratio, double from, double to) {
  const Vector2d minor = ratio * Vector2d(-major.y(), major.x());
  const auto point = [&](double u, double scale) -> Vector2d {
    return centre + scale * (std::cos(u) * major + std::sin(u) * minor);
  };
  const int n = std::max(1, static_cast<int>(std::ceil((to - from) / (pi / 2) - 1e-9)));
  const double half = 0.5 * (to - from) / n;
  SplineCurve arc{2, {0, 0, 0}, {point(from, 1)}, {1}};
  for (int i = 0; i < n; ++i) {
    const double middle = from + (2 * i + 1) * half;
    arc.points.push_back(point(middle, 1 / std::cos(half)));
    arc.weights.push_back(std::cos(half));
    arc.points.push_back(point(middle + half, 1));
    arc.weights.push_back(1);
    const int copies = i + 1 == n ? 3 : 2;
    arc.knots.insert(arc.knots.end(), static_cast<std::size_t>(copies), i + 1.0);
  }
  if (to - from >= 2 * pi - 1e-9) arc.points.back() = arc.points.front();
  return arc;
}

}  // namespace halftool::mesh
