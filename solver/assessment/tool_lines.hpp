#pragma once
#include <optional>
#include <vector>

#include "mesh/screens/concave_edges.hpp"
#include "mesh/screens/openings.hpp"
#include "mesh/screens/sheet_reach.hpp"
#include "mesh/screens/walls.hpp"
#include "solver/assessment/estimate.hpp"
#include "solver/assessment/hand_formulas.hpp"

namespace halftool::solver {

// Estimates of the tool half. They use the formulas of the screens (tool_screens.hpp) and list what does not
// trip as well.

/// Pressure that fills each hollow radius.
EstimateGroup fill_lines(const mesh::ConcaveEdges& edges, const ScreenLoad& load);

/// Openings under the sheet, with the span from which it sinks into them.
EstimateGroup opening_lines(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                            const ScreenLoad& load);

/// Stress of the most slender walls and thinnest rings, at most three of each.
/// @param open  the surface encloses no solid: there is no thickness to measure
EstimateGroup wall_lines(const mesh::WallsAndRings& walls, double pressure, std::optional<double> allowed,
                         bool open);

}  // namespace halftool::solver
