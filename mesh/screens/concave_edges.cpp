#include "mesh/screens/concave_edges.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/facet_curvature.hpp"
#include "mesh/shut_in.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

constexpr double sharp_turn = 5 * std::numbers::pi / 180;
constexpr double upright = 0.1;         // |z| of the normal of the wall of a drilled hole
constexpr double noise_share = 0.02;    // of the first curvature: a second one below it counts as none
constexpr double typical_share = 0.02;  // of the area that may be harder to fill (facet noise, as find_radii)

struct HollowFacet {
  int facet;
  double area;
  Eigen::Vector2d curvature;  ///< sizes [1/mm]; the second 0 where it is convex
  [[nodiscard]] ConcaveRadius radius() const { return {1 / curvature(0), 1 / curvature(1)}; }
  [[nodiscard]] double need() const { return fill_curvature(1 / curvature(0), 1 / curvature(1)); }
};

void add_typical(std::vector<HollowFacet> alike, const ToolView& view, std::vector<ConcaveRadius>& radii) {
  if (alike.empty()) return;
  std::stable_sort(alike.begin(), alike.end(),
                   [](const auto& a, const auto& b) { return a.need() > b.need(); });
  ConcaveRadius radius;
  for (const auto& hollow : alike) radius.area += hollow.area;
  double passed = 0;
  for (const auto& hollow : alike) {
    passed += hollow.area;
    if (passed < typical_share * radius.area) continue;
    radius.radius = hollow.radius().radius;
    radius.across = hollow.radius().across;
    radius.at = view.middle(hollow.facet);
    break;
  }
  radii.push_back(radius);
}

/// What the sheet is to fill: the tool within its reach, outside of openings that it bridges.
struct Ground {
  const ToolView& view;
  const SheetReach& reach;
  const std::vector<Opening>& bridged;

  [[nodiscard]] bool holds(const Vector3d& x) const {
    return reach.reaches(x) && std::none_of(bridged.begin(), bridged.end(),
                                            [&](const Opening& opening) { return opening.holds(x); });
  }
};

/// Whether the wall across stands a diameter away: an upright wall that goes all round.
bool goes_all_round(int facet, double radius, const ToolView& view) {
  const Vector3d normal = view.smooth_normal(facet);
  if (std::abs(normal.z()) > upright) return false;
  const auto across = view.look(view.middle(facet), normal);
  return across && across->distance < 2.05 * radius;
}

void add_patch(const RadiusPatch& patch, const Ground& ground, std::vector<ConcaveRadius>& radii) {
  const ToolView& view = ground.view;
  std::vector<HollowFacet> one_way, both_ways;
  for (const int f : patch.facets) {
    if (!ground.holds(view.middle(f)) || is_shut_in(view.tool(), f)) continue;
    const Eigen::Vector2d k = principal_curvatures(view.tool().facets()[static_cast<std::size_t>(f)]);
    if (goes_all_round(f, -1 / k(0), view)) continue;
    const double second = -k(1) > noise_share * -k(0) ? -k(1) : 0;
    const HollowFacet hollow{f, view.area(f), {-k(0), second}};
    (hollow.radius().is_double() ? both_ways : one_way).push_back(hollow);
  }
  add_typical(std::move(one_way), view, radii);
  add_typical(std::move(both_ways), view, radii);
}

/// Turn of the normal from a wall to the tray floor that it stands on [rad]; 0 elsewhere.
double turn_at_foot(const SharpEdge& edge, const ToolView& view) {
  if (!edge.is_border() || view.is_at_bottom(edge.facets[0])) return 0;
  const double lean = std::acos(std::clamp(view.normal(edge.facets[0]).z(), -1.0, 1.0));
  return view.is_at_bottom(edge.a) && view.is_at_bottom(edge.b) && lean > sharp_turn ? lean : 0;
}

ConcaveCorner find_sharp(const Ground& ground) {
  const ToolView& view = ground.view;
  ConcaveCorner sharp;
  const bool on_floor = view.has_floor();
  for (const SharpEdge& edge : view.net().sharp_edges) {
    const double turn = std::max(-turn_of(edge, view), on_floor ? turn_at_foot(edge, view) : 0);
    const Vector3d middle = edge.point(0.5);
    const double off = 1e-3 * view.spacing();
    const Vector3d on_chord = 0.5 * (edge.a + edge.b);  // the curve stands behind the flat facets of a hollow
    if (turn < sharp_turn || !ground.holds(middle) ||
        is_shut_in(view.tool(), on_chord + off * edge.outward, 0.1 * off))
      continue;
    sharp.length += (edge.b - edge.a).norm();
    if (turn > sharp.turn) {
      sharp.turn = turn;
      sharp.at = middle;
    }
  }
  return sharp;
}

}  // namespace

double fill_curvature(double radius, double across) {
  const double a = 1 / radius, b = 1 / across;
  return std::sqrt(a * a + a * b + b * b);
}

ConcaveEdges find_concave_edges(const ToolView& view, const SheetReach& reach,
                                const std::vector<Opening>& bridged) {
  const Ground ground{view, reach, bridged};
  ConcaveEdges edges;
  for (const RadiusPatch& patch : view.radii())
    if (!patch.convex) add_patch(patch, ground, edges.radii);
  std::stable_sort(edges.radii.begin(), edges.radii.end(), [](const auto& a, const auto& b) {
    return fill_curvature(a.radius, a.across) > fill_curvature(b.radius, b.across);
  });
  edges.sharp = find_sharp(ground);
  return edges;
}

}  // namespace halftool::mesh
