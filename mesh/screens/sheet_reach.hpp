#pragma once
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/outline.hpp"

namespace halftool::mesh {

/// Which places of the tool the flat blank covers and which it can come to lie on. A rough rule, own
/// judgement: the sheet beyond a place hangs down by no more than its own length, stretched by a fifth;
/// between the rims of a cavity it can go anywhere.
class SheetReach {
 public:
  /// @param level  of the tool face of the flat blank [mm]
  /// @param rims   polygon round the rims of a cavity, see rims_of; empty: the sheet goes over a block [mm]
  SheetReach(const BlankSpec& blank, double level, std::vector<Eigen::Vector2d> rims = {});

  /// Distance of a point in plan from the cut edge [mm], < 0 outside of the sheet or in a hole.
  [[nodiscard]] double inside(const Eigen::Vector2d& plan) const;
  /// How far the flat sheet goes on from a point in a direction [mm]; 0 outside of it.
  /// @param direction  unit, in plan
  [[nodiscard]] double to_cut_edge(const Eigen::Vector2d& plan, const Eigen::Vector2d& direction) const;
  /// Under the flat blank, and at least a thickness inside its edge.
  [[nodiscard]] bool covers(const Eigen::Vector3d& x) const;
  [[nodiscard]] bool reaches(const Eigen::Vector3d& x) const;

 private:
  PlacedOutline outline_;
  std::vector<Eigen::Vector2d> outer_;
  std::vector<std::vector<Eigen::Vector2d>> holes_;
  double thickness_, level_;
  std::vector<Eigen::Vector2d> rims_;
};

/// Convex hull in plan of what stands above a level, counter-clockwise [mm].
std::vector<Eigen::Vector2d> rims_of(const SurfaceMesh& tool, double level);

}  // namespace halftool::mesh
