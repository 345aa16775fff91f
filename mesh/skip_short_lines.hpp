#pragma once
#include <functional>

#include "mesh/outline_piece.hpp"

namespace halftool::mesh {

/// Turn of the direction from one straight piece to the next, left positive [rad]; 0 unless both are
/// straight.
double turn_between(const OutlinePiece& piece, const OutlinePiece& next);

/// A vertex with a sharper turn is a corner, not a point of a curve that was drawn as chords [rad].
inline constexpr double corner_turn = 0.35;

/// The loop without the vertices of curves that were drawn as chords much shorter than the mesh. A vertex
/// between two straight pieces goes where the one kept before it is nearer than the wanted edge length, the
/// turn at it is no corner and the turn since the kept one stays below 15 degrees: the mesh then follows the
/// chords as it would follow the curve. Loops whose straight pieces are longer than half the wanted edge
/// length come back as they are.
/// @param wanted  edge length [mm] at a point of the flat mesh
Loop skip_short_lines(const Loop& loop, const std::function<double(const Eigen::Vector2d&)>& wanted);

}  // namespace halftool::mesh
