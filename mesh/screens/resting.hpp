#pragma once
#include <optional>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// How the flat blank lies on the highest level of the tool half under it. Halves that symmetry leaves out
/// count.
struct Resting {
  Eigen::Vector2d centroid;                ///< of the blank's area [mm]
  std::vector<Eigen::Vector2d> supported;  ///< convex hull of all places of contact [mm]
  double outside = 0;                      ///< distance of the centroid from that hull [mm]

  /// Largest distance between two places of contact [mm].
  [[nodiscard]] double across() const;
};

/// Places of contact are looked for on the facets, at eight places along a side, and at 2000 places along
/// each cut edge; contact is what comes within a micrometre of the level.
/// @param level  of the tool face of the flat blank, see resting_level [mm]
/// @return nothing where no place of contact was found
std::optional<Resting> find_resting(const ToolSurface& tool, const BlankSpec& blank, double level);

}  // namespace halftool::mesh
