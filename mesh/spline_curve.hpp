#pragma once
#include <Eigen/Core>
#include <vector>

namespace halftool::mesh {

/// Plane B-spline curve, rational where it has weights (Piegl and Tiller, The NURBS Book, 1997, chapters 3,
/// 4). It runs over the knots from number `degree` to number n_points (counted from 0).
struct SplineCurve {
  int degree = 3;
  std::vector<double> knots;            ///< (n_points + degree + 1), not falling
  std::vector<Eigen::Vector2d> points;  ///< control points [mm]
  std::vector<double> weights = {};     ///< (n_points), above zero; empty: all 1
};

/// Points along a curve, its ends included, whose chords stay within 2e-4 mm of it and turn by at most 3
/// degrees.
struct SplineSamples {
  std::vector<Eigen::Vector2d> points;  ///< [mm]
  std::vector<double> radius;           ///< of curvature at each point [mm], infinite where straight
};

/// Parts of the curve that begin and end in a control point, have no kink inside and are not closed.
/// @throws MeshError  numbers of knots, points and weights that do not belong together, knots that fall,
/// weights not above zero, numbers that are not finite
std::vector<SplineCurve> smooth_parts(const SplineCurve& curve);

/// @param curve  as smooth_parts gives it
SplineSamples sample(const SplineCurve& curve);

/// Area that the line from the origin to the curve sweeps, counter-clockwise positive [mm2].
/// @param curve  as smooth_parts gives it
double swept_area(const SplineCurve& curve);

/// The same curve run from its end to its start.
SplineCurve reversed(SplineCurve curve);

/// An arc of an ellipse as a rational curve of degree 2, exact (Piegl and Tiller 1997, section 7.5).
/// @param major  from the centre to an end of the major axis [mm]
/// @param ratio  minor over major axis, negative: run clockwise
/// @param from, to  parameters, not angles: centre + cos(u) major + sin(u) minor; from < to <= from + 2 pi
/// [rad]
SplineCurve ellipse_arc(const Eigen::Vector2d& centre, const Eigen::Vector2d& major, double ratio,
                        double from, double to);

}  // namespace halftool::mesh
