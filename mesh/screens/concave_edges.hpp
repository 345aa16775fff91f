#pragma once
#include <limits>
#include <vector>

#include "mesh/screens/openings.hpp"
#include "mesh/screens/sheet_reach.hpp"
#include "mesh/screens/tool_view.hpp"

namespace halftool::mesh {

/// A hollow radius of the tool within the sheet's reach.
struct ConcaveRadius {
  double radius = 0;  ///< smallest, of the tool's face [mm]
  double across =
      std::numeric_limits<double>::infinity();   ///< the other radius, infinite: none or convex [mm]
  double area = 0;                               ///< of the facets alike [mm2]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< [mm]

  /// Hollow both ways, as where faces meet in a corner: the second curvature is a quarter of the first at
  /// least.
  [[nodiscard]] bool is_double() const { return across <= 4 * radius; }
};

/// Inside edges without a radius within the sheet's reach.
struct ConcaveCorner {
  double length = 0;                             ///< of all such edges [mm]
  double turn = 0;                               ///< of the sharpest [rad]
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< middle of the sharpest [mm]
};

struct ConcaveEdges {
  /// One a patch of find_radii and kind (double or not), hardest to fill first.
  std::vector<ConcaveRadius> radii;
  ConcaveCorner sharp;
};

/// Size of the two curvatures of a hollow face that the fluid has to give to the sheet [1/mm]: the root of k1
/// squared + k1 k2 + k2 squared; see solver::fill_screen.
double fill_curvature(double radius, double across);

/// Edges whose normal turns back by more than 5 degrees count as sharp (own judgement); walls that stand on
/// the tray floor meet it sharply. Walls that go all round, as in a drilled hole, are no radii to fill.
/// What is shut in (see is_shut_in) is left out.
/// @param bridged  openings that the sheet does not sink into: what lies in them is left out
ConcaveEdges find_concave_edges(const ToolView& view, const SheetReach& reach,
                                const std::vector<Opening>& bridged);

}  // namespace halftool::mesh
