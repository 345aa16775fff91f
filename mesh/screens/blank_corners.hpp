#pragma once
#include <vector>

#include "mesh/blank.hpp"

namespace halftool::mesh {

/// Outward corners of the blank, in the tool's frame [mm], that turn by more than 30 degrees and are sharp or
/// rounded by less than a limit.
/// @param radius  [mm]
std::vector<Eigen::Vector2d> find_blank_corners(const BlankSpec& blank, double radius);

}  // namespace halftool::mesh
