#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "mesh/spline_curve.hpp"

namespace halftool::mesh {

struct OutlineSpline {
  SplineCurve curve;      ///< a smooth part
  SplineSamples samples;  ///< of the curve
};

/// One piece of a closed plane curve: a straight line, an arc of less than half a turn, or a spline.
struct OutlinePiece {
  Eigen::Vector2d start, end;             ///< [mm]
  std::optional<Eigen::Vector2d> centre;  ///< of an arc
  std::string name;                       ///< for messages: "corner 3", "hole 1"
  std::optional<OutlineSpline> spline = {};

  [[nodiscard]] double radius() const { return centre ? (start - *centre).norm() : 0; }
};
using Loop = std::vector<OutlinePiece>;

/// Four quarters of a circle, counter-clockwise.
Loop circle(const Eigen::Vector2d& centre, double radius, const std::string& name);

/// Angle from the start to the end of an arc, counter-clockwise positive [rad].
double sweep_of(const OutlinePiece& arc);

/// The pieces turned about the origin and then shifted.
/// @param turn  [rad]
Loop placed(Loop loop, double turn, const Eigen::Vector2d& shift);

/// The same curve run the other way round.
Loop reversed(Loop loop);

/// Distance of a point from a piece [mm]; from a spline within 2e-4 mm.
double distance_to(const OutlinePiece& piece, const Eigen::Vector2d& x);
double distance_to(const Loop& loop, const Eigen::Vector2d& x);

/// Corners of a polygon that follows the loop; the first is not repeated. Arcs are cut into chords of at most
/// 3 degrees, and no farther from the arc than `sag`.
/// @param sag  [mm]; 0: not asked for
std::vector<Eigen::Vector2d> as_polygon(const Loop& loop, double sag = 0);

/// Length of a piece [mm].
double length_of(const OutlinePiece& piece);

/// Area inside a loop, counter-clockwise positive [mm2]; of splines to rounding.
double area_of(const Loop& loop);

/// Stretches a box so that it holds the loop.
void grow_box(const Loop& loop, Eigen::Vector2d& low, Eigen::Vector2d& high);

/// Whether a point lies inside a polygon (even-odd rule).
bool is_inside(const std::vector<Eigen::Vector2d>& polygon, const Eigen::Vector2d& x);

/// The third component of the product of two vectors of the plane.
inline double cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
  return a.x() * b.y() - a.y() * b.x();
}

/// Whether two straight lines, from a to b and from c to d, have a point in common.
bool segments_cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b, const Eigen::Vector2d& c,
                    const Eigen::Vector2d& d);

}  // namespace halftool::mesh
