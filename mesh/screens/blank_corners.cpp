#include "mesh/screens/blank_corners.hpp"

#include <cmath>
#include <numbers>

#include "mesh/outline.hpp"

namespace halftool::mesh {

std::vector<Eigen::Vector2d> find_blank_corners(const BlankSpec& blank, double radius) {
  constexpr double least_turn = 30 * std::numbers::pi / 180;
  const Loop outer = place_outline(blank).outer;
  const double sense = area_of(outer) > 0 ? 1 : -1;
  std::vector<Eigen::Vector2d> corners;
  // Curves are cut into chords that turn by 3 degrees at most, so what turns more is a corner.
  const auto polygon = as_polygon(outer);
  const auto n = polygon.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Eigen::Vector2d in = polygon[i] - polygon[(i + n - 1) % n], out = polygon[(i + 1) % n] - polygon[i];
    if (sense * std::atan2(cross(in, out), in.dot(out)) > least_turn) corners.push_back(polygon[i]);
  }
  for (const OutlinePiece& piece : outer)
    if (piece.centre && piece.radius() < radius && sense * sweep_of(piece) > least_turn)
      corners.push_back(0.5 * (piece.start + piece.end));
  return corners;
}

}  // namespace halftool::mesh
