#pragma once
#include <Eigen/Core>
#include <variant>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/spline_curve.hpp"

namespace halftool::mesh {

struct LineCurve {
  Eigen::Vector2d start, end;  ///< [mm]
};
struct ArcCurve {
  Eigen::Vector2d centre;  ///< [mm]
  double radius = 0;       ///< [mm]
  double from = 0;         ///< angle of the start [rad]
  double sweep = 0;        ///< to the end, counter-clockwise positive; 2 pi: a circle [rad]
};
/// A curve as it stands in a drawing.
/// The arc of a given sweep, above zero in size and below 2 pi, between two points that differ.
ArcCurve arc_through(const Eigen::Vector2d& start, const Eigen::Vector2d& end, double sweep);

using PlaneCurve = std::variant<LineCurve, ArcCurve, SplineCurve>;

inline constexpr double chaining_tolerance = 0.01;  ///< ends nearer than this are joined [mm]
inline constexpr double short_piece = 0.05;         ///< pieces shorter than this are a doubt [mm]

/// Joins the curves of a drawing, in any order and direction, to one outer loop and its holes.
///
/// Curves shorter than the tolerance and curves that are drawn twice are dropped, smaller gaps are closed: a
/// line or a spline goes to the end of an arc, otherwise both go to the middle. All of it is told in `facts`;
/// short pieces and gaps above 1e-6 mm in `doubts` too.
/// @throws MeshError  with the place: a gap, an end at which more than two curves meet, loops that cross or
/// touch themselves or each other, two outer loops, a hole outside, a loop inside a hole, a curve that is not
/// finite, nothing left, more than 20000 curves
DrawnOutline chain_curves(const std::vector<PlaneCurve>& curves);

}  // namespace halftool::mesh
