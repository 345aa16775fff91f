#pragma once
#include <optional>
#include <vector>

#include "mesh/screens/concave_edges.hpp"
#include "mesh/screens/convex_edges.hpp"
#include "mesh/screens/openings.hpp"
#include "mesh/screens/undercuts.hpp"
#include "mesh/screens/walls.hpp"
#include "solver/assessment/hand_formulas.hpp"
#include "solver/assessment/screen.hpp"

namespace halftool::solver {

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

/// What fill_screen says of one radius, tripped or not.
Finding fill_finding(const mesh::ConcaveRadius& radius, const ScreenLoad& load);

/// Openings under the sheet into which it sinks, so that they print through: slots from
/// sinking_width on, holes from sinking_diameter on (hand_formulas.hpp). sigma: first yield. An opening
/// counts that is deeper than a thickness and narrower than 20 thicknesses.
Screen print_through_screen(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                            const ScreenLoad& load);

/// Whether an opening is one that print_through_screen looks at, and what it says of it, tripped or not.
bool opening_counts(const mesh::Opening& opening, const mesh::SheetReach& reach, const ScreenLoad& load);
Finding opening_finding(const mesh::Opening& opening, const ScreenLoad& load);

/// Walls and rings that the pressure could burst, by wall_root_stress and ring_hoop_stress
/// (hand_formulas.hpp). Stress concentration at the foot is left out, and usually governs.
/// @param allowed  stress that the tool may bear [MPa]; nothing: the stress is told and not judged
/// @param open     the surface encloses no solid: there is no thickness to measure
Screen wall_screen(const mesh::WallsAndRings& walls, double pressure, std::optional<double> allowed,
                   bool open);

/// What wall_screen says of one wall or ring, tripped or not.
Finding wall_finding(const mesh::Wall& wall, double pressure, std::optional<double> allowed);
Finding ring_finding(const mesh::Ring& ring, double pressure, std::optional<double> allowed);

/// Edges and blank corners sharper than `sharp_radius` that the pad comes down on, or that the sheet folds
/// over. Common practice, no source.
Screen sharp_edge_screen(const mesh::ConvexEdges& edges, const std::vector<Eigen::Vector2d>& blank_corners,
                         double blank_level);

/// Gaps of width g and depth h between high parts of the tool that the pad is drawn into: it stretches to
/// 1 + 2 h/g of its length (down one wall and up the other; own arithmetic). Trips above 2.0 (an
/// elongation of 100 percent; own judgement, no source). Holes, gaps that the sheet bridges and crevices
/// below 1 mm, such as beside an insert, are left out.
Screen pad_stretch_screen(const std::vector<mesh::Opening>& openings, const mesh::SheetReach& reach,
                          const ScreenLoad& load);

/// Span of an opening at which a sheet that covers it begins to sink [mm]; see print_through_screen.
double sinking_span(const mesh::Opening& opening, const ScreenLoad& load);

/// The openings that are too narrow for the sheet to sink into.
std::vector<mesh::Opening> bridged_openings(const std::vector<mesh::Opening>& openings,
                                            const ScreenLoad& load);

}  // namespace halftool::solver
