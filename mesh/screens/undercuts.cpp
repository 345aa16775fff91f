#include "mesh/screens/undercuts.hpp"

#include <algorithm>
#include <cmath>

namespace halftool::mesh {
namespace {

constexpr double noise = 1.745e-3;  // 0.1 degrees [rad]

/// The part that hangs together with facet `first`, facets of which are marked as taken.
std::vector<int> part_from(int first, const ToolView& view, std::vector<bool>& open) {
  std::vector<int> part{first};
  open[static_cast<std::size_t>(first)] = false;
  for (std::size_t k = 0; k < part.size(); ++k)
    for (int i = 0; i < 3; ++i) {
      const auto across = view.edges().triangles.row(view.edges().of_triangle(part[k], i));
      const int other = across(0) == part[k] ? across(1) : across(0);
      if (other < 0 || !open[static_cast<std::size_t>(other)]) continue;
      open[static_cast<std::size_t>(other)] = false;
      part.push_back(other);
    }
  return part;
}

Undercut measure(const std::vector<int>& part, const ToolView& view, const SheetReach& reach) {
  Undercut undercut;
  double largest_area = 0;
  for (const int f : part) {
    const double angle = std::asin(std::min(1.0, -view.smooth_normal(f).z()));
    undercut.area += view.area(f);
    const bool as_steep = angle > undercut.angle - noise && view.area(f) > largest_area;
    if (angle > undercut.angle + noise || as_steep) {
      undercut.at = view.middle(f);
      largest_area = view.area(f);
    }
    undercut.angle = std::max(undercut.angle, angle);
    const auto places = view.places_on(f);
    undercut.reached = undercut.reached || std::any_of(places.begin(), places.end(),
                                                       [&](const auto& x) { return reach.reaches(x); });
  }
  return undercut;
}

}  // namespace

std::vector<Undercut> find_undercuts(const ToolView& view, const SheetReach& reach) {
  std::vector<bool> open(static_cast<std::size_t>(view.n_facets()));
  for (int f = 0; f < view.n_facets(); ++f)
    open[static_cast<std::size_t>(f)] = view.smooth_normal(f).z() < -std::sin(noise) && !view.is_at_bottom(f);
  std::vector<Undercut> undercuts;
  for (int f = 0; f < view.n_facets(); ++f)
    if (open[static_cast<std::size_t>(f)])
      undercuts.push_back(measure(part_from(f, view, open), view, reach));
  std::stable_sort(undercuts.begin(), undercuts.end(),
                   [](const Undercut& a, const Undercut& b) { return a.angle > b.angle; });
  return undercuts;
}

Shadow find_shadow(const ToolView& view) {
  Shadow shadow;
  double largest = 0;
  for (int f = 0; f < view.n_facets(); ++f) {
    if (view.smooth_normal(f).z() < std::sin(noise) || view.is_at_bottom(f)) continue;
    const auto places = view.places_on(f);
    // Off the flat facets of a hollow face, which stand behind each other.
    const Eigen::Vector3d off =
        std::min(0.05 * std::sqrt(view.area(f)), 0.02 * view.spacing()) * view.smooth_normal(f);
    const auto dark =
        std::count_if(places.begin(), places.end(), [&](const auto& x) { return !view.sees_sky(x + off); });
    const double area = view.area(f) * static_cast<double>(dark) / static_cast<double>(places.size());
    shadow.area += area;
    if (area > largest) {
      largest = area;
      shadow.at = view.middle(f);
    }
  }
  return shadow;
}

}  // namespace halftool::mesh
