#pragma once
#include <Eigen/Core>
#include <array>
#include <string>
#include <vector>

#include "mesh/chain_curves.hpp"

namespace halftool::mesh {

/// A drawn curve on its way into a loop: with two ends, or closed.
struct Strand {
  PlaneCurve curve;                       ///< a spline: one smooth part
  std::array<Eigen::Vector2d, 2> ends{};  ///< [mm]
  Eigen::Vector2d middle{};               ///< a point between the ends [mm]
  bool closed = false;                    ///< a whole circle

  [[nodiscard]] bool is_arc() const { return std::holds_alternative<ArcCurve>(curve); }
};

/// What was left out on the way.
struct LeftOut {
  int n_empty = 0;       ///< shorter than the chaining tolerance
  int n_duplicates = 0;  ///< drawn twice
};

/// Strands of the curves, without empty ones and duplicates.
/// @throws MeshError  curves that are not finite, a radius that is not above zero, faulty splines, too many
/// curves
std::vector<Strand> strands_of(const std::vector<PlaneCurve>& curves, LeftOut& left_out);

/// Pieces of the strand between its ends, which may have been moved a little since it was drawn: an arc keeps
/// its sweep, a spline its other control points.
Loop pieces_of(const Strand& strand);

}  // namespace halftool::mesh
