#include "solver/stepping/lay_on.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace halftool::solver {
namespace {

constexpr int kMostMoves = 50;

// Between the sheet's contact points and the tool [mm], < 0: penetration.
double smallest_gap(const SheetState& state, const mesh::ToolSurface& tool) {
  double smallest = std::numeric_limits<double>::infinity();
  for (const TriangleMemory& memory : state.memory)
    if (const auto at = tool.nearest(memory.middle, std::numeric_limits<double>::infinity()))
      smallest = std::min(smallest, at->gap - 0.5 * memory.thickness);
  return smallest;
}

}  // namespace

// On a slope the gap is shorter than the way down, so it takes a few moves.
void lay_on(const mesh::ToolSurface& tool, double penetration, SheetState& state) {
  for (int i = 0; i < kMostMoves; ++i) {
    const double way = smallest_gap(state, tool) + penetration;
    if (!(std::abs(way) > 0.1 * penetration)) return;
    state.place.positions.col(2).array() -= way;
    for (TriangleMemory& memory : state.memory) memory.middle.z() -= way;
  }
}

}  // namespace halftool::solver
