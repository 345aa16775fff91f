#pragma once
#include <string>
#include <vector>

#include "mesh/blank.hpp"

namespace halftool::mesh {

/// Sorts closed loops into the outer one and its holes, and names their pieces.
/// @param loops  each closed and counter-clockwise, at least one
/// @throws MeshError  with the place: loops that cross or touch themselves or each other, two outer loops, a
/// hole outside, a loop inside a hole
DrawnOutline nest_loops(std::vector<Loop> loops);

/// "(12.4, 33)"
std::string in_plane(const Eigen::Vector2d& x);
/// "0.04 mm"
std::string in_mm(double length);

}  // namespace halftool::mesh
