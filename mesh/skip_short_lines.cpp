#include "mesh/skip_short_lines.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double edge_turn = std::numbers::pi / 12;  // of one edge along a curve, as in the size field
constexpr double much_shorter = 0.5;                 // of the wanted edge length
constexpr std::size_t fewest = 3;                    // pieces that a loop of lines needs

bool is_straight(const OutlinePiece& piece) {
  return !piece.centre && !piece.spline;
}

}  // namespace

double turn_between(const OutlinePiece& piece, const OutlinePiece& next) {
  if (!is_straight(piece) || !is_straight(next)) return 0;
  const Vector2d in = piece.end - piece.start;
  const Vector2d out = next.end - next.start;
  return std::atan2(cross(in, out), in.dot(out));
}

Loop skip_short_lines(const Loop& loop, const std::function<double(const Vector2d&)>& wanted) {
  const auto is_short = [&](const OutlinePiece& piece) {
    return is_straight(piece) && (piece.end - piece.start).norm() < much_shorter * wanted(piece.start);
  };
  Loop kept;
  double turned = 0;  // since the start of the last kept piece
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const OutlinePiece& piece = loop[i];
    const double turn = i == 0 ? 0 : turn_between(loop[i - 1], piece);
    const bool goes = i > 0 && is_straight(kept.back()) && is_straight(piece) &&
                      (is_short(loop[i - 1]) || is_short(piece)) && std::abs(turn) < corner_turn &&
                      std::abs(turned + turn) < edge_turn &&
                      (piece.start - kept.back().start).norm() < wanted(piece.start) &&
                      kept.size() + loop.size() - i >= fewest + 1;
    turned = goes ? turned + turn : 0;
    if (goes)
      kept.back().end = piece.end;
    else
      kept.push_back(piece);
  }
  return kept;
}

}  // namespace halftool::mesh
