#pragma once
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

struct BlankSpec;
class ToolSurface;

/// Amplitude over the thickness that a size left open stands for: common practice for buckling, no source.
inline constexpr double kUsualFlatness = 0.01;

/// How far the blank is out of flat as it is cut, free of stress: what buckling starts from on an exact tool.
struct Flatness {
  /// Height of the unevenness over the thickness: three times its root mean square; 0: exactly flat. Zero,
  /// for the irregular mesh begins waves too, and a shrink flange formed the same one with 0, 1 and 5 %.
  /// Rolled sheet is allowed some 0.4 % of a length (EN 485-4, from memory): over half a wave of the shortest
  /// length here 2 % of the thickness, of the longest 20 %.
  double amplitude = 0;
  /// Which of the patterns of equal height, from 1. Another one may begin waves in other places.
  int pattern = 1;
};

/// Raises and lowers the nodes of a blank at rest on the tool by its unevenness: a sum of standing waves, 12
/// to 100 thicknesses long, all of one height, in fixed directions. That holds the waves which a flange 4 to
/// 30 thicknesses high buckles into (3.3 times its height with a clamped root: Timoshenko and Gere, from
/// memory). Even about the blank's own axes through the middle of its outline, or about the planes of
/// symmetry: a half or a quarter of a symmetric blank is as uneven as the whole. It turns and moves with the
/// blank. None where the blank lies on the tool, which would press it flat before anything else; all of it
/// from two thicknesses above the tool on. None with a held rim, whose blank is stretched from the start.
/// @param spec   outline, thickness, place, symmetry and flatness of the blank
/// @param nodes  (n, 3) mid-surface, half a thickness above the highest tool point [mm]
void make_uneven(const BlankSpec& spec, const ToolSurface& tool, Points& nodes);

}  // namespace halftool::mesh
