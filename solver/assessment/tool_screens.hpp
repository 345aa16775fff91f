#pragma once
#include <optional>
#include <vector>

#include "mesh/screens/concave_edges.hpp"
#include "mesh/screens/convex_edges.hpp"
#include "mesh/screens/openings.hpp"
#include "mesh/screens/undercuts.hpp"
#include "mesh/screens/walls.hpp"
#include "solver/assessment/screen.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// What presses and what is pressed.
struct ScreenLoad {
  SheetMaterial sheet;
  double thickness = 0;  ///< of the sheet [mm]
  double pressure = 0;   ///< peak [MPa]
};

/// Edges rounded by less face the pad as if they were sharp [mm]. Own judgement, well below the 3 to 6 mm
/// that common practice (no source) gives to edges that do no forming.
constexpr double sharp_radius = 1;

/// Openings wider than this many thicknesses are part of the shape, not holes that print. Own judgement: the
/// span that begins to sink is some 2 to 8 thicknesses at 100 MPa.
constexpr double widest_opening = 20;

/// Facets that face down: the part grips the tool, the pad closes round it. Trips from 0.1 degrees on, worse
/// from 3 degrees on (own judgement: a part whose flange springs back by that much may still come off).
Screen undercut_screen(const std::vector<mesh::Undercut>& undercuts, const mesh::Shadow& shadow);

/// Hollow radii of the tool that the pressure does not press the sheet into; inside edges without a radius
/// always trip. Pressure needed p = (2/sqrt 3) sigma t k, k^2 = k1^2 + k1 k2 + k2^2 of the tool's two hollow
/// curvatures (k2 = 0 where it is not hollow both ways); sigma: flow stress at an equivalent strain of 0.1.
/// Own arithmetic: p is the largest sigma_1 t k1 + sigma_2 t k2 that von Mises' condition allows, so S t/r in
/// an edge with S = (2/sqrt 3) sigma, and 2 sigma t/r in a spherical corner. r is that of the tool's face: a
/// sheet whose wall stands between fluid and tool fills an outer radius r = r_mid + t/2 at p = S t/(r_mid +
/// t/2) exactly (tests/verification/corner_fill); in a spherical corner the thick sheet needs 1 - t/(2 r) of
/// what is said here. Bending is left out, which asks for more below some 5 thicknesses of radius.
Screen fill_screen(const mesh::ConcaveEdges& edges, const ScreenLoad& load);

/// Openings under the sheet into which it sinks, so that they print through: slots from a width of
/// w = 2 t sqrt((2/sqrt 3) sigma/p) on (clamped strip, plastic hinges at rims and middle; own arithmetic),
/// holes from a diameter of D = t sqrt(11.26 sigma/p) on (clamped plate, p = 11.26 M/R^2 with M = sigma
/// t^2/4: Hopkins and Prager 1953, from memory). sigma: first yield. An opening counts that is deeper than a
/// thickness and narrower than 20 thicknesses.
Screen print_through_screen(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                            const ScreenLoad& load);

/// Walls and rings that the pressure could burst: a wall of height h and thickness b under pressure on one
/// side has a root stress of 3 p (h/b)^2 (cantilever: moment p h^2/2 over b^2/6; own arithmetic); the ring
/// round a cavity p (k^2 + 1)/(k^2 - 1) at its inner face, k the ratio of its radii (thick cylinder, Lame
/// 1852, from memory). Stress concentration at the foot is left out, and usually governs.
/// @param allowed  stress that the tool may bear [MPa]; nothing: the stress is told and not judged
/// @param open     the surface encloses no solid: there is no thickness to measure
Screen wall_screen(const mesh::WallsAndRings& walls, double pressure, std::optional<double> allowed,
                   bool open);

/// Edges and blank corners sharper than `sharp_radius` that the pad comes down on, or that the sheet folds
/// over. Common practice, no source.
Screen sharp_edge_screen(const mesh::ConvexEdges& edges, const std::vector<Eigen::Vector2d>& blank_corners,
                         double blank_level);

/// Gaps of width g and depth h between high parts of the tool that the pad is drawn into: it stretches to
/// 1 + 2 h/g of its length (down one wall and up the other; own arithmetic). Trips above 2.0 (an
/// elongation of 100 percent; own judgement, no source). Holes, and gaps that the sheet
/// bridges, are left out.
Screen pad_stretch_screen(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                          const ScreenLoad& load);

/// Span of an opening at which a sheet that covers it begins to sink [mm]; see print_through_screen.
double sinking_span(const mesh::Opening& opening, const ScreenLoad& load);

/// The openings that are too narrow for the sheet to sink into.
std::vector<mesh::Opening> bridged_openings(const std::vector<mesh::Opening>& openings,
                                            const ScreenLoad& load);

}  // namespace halftool::solver
