#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <vector>

#include "mesh/facet_curvature.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {
namespace {

constexpr double same_radius = 1.25;  // ratio of radii up to which neighbours belong together
constexpr double typical_share =
    0.02;  // share of a patch's area that may have a smaller radius (facet noise)

double area_of(const CurvedFacet& facet) {
  return 0.5 * (facet.corner[1] - facet.corner[0]).cross(facet.corner[2] - facet.corner[0]).norm();
}

bool belong_together(double a, double b) {
  return a * b > 0 && std::abs(a) < same_radius * std::abs(b) && std::abs(b) < same_radius * std::abs(a);
}

/// Radius that only a small share of the patch's area goes below.
double smallest_radius(const ToolSurface& tool, const std::vector<int>& facets,
                       const std::vector<double>& curvature) {
  std::vector<std::pair<double, double>> radius_and_area;
  double area = 0;
  for (const int f : facets) {
    const double a = area_of(tool.facets()[static_cast<std::size_t>(f)]);
    radius_and_area.emplace_back(1 / std::abs(curvature[static_cast<std::size_t>(f)]), a);
    area += a;
  }
  std::sort(radius_and_area.begin(), radius_and_area.end());
  double passed = 0;
  for (const auto& [radius, a] : radius_and_area) {
    passed += a;
    if (passed >= typical_share * area) return radius;
  }
  return radius_and_area.back().first;
}

}  // namespace

std::vector<RadiusPatch> find_radii(const ToolSurface& tool) {
  return find_radii(tool, build_edges(tool.mesh()));
}

std::vector<RadiusPatch> find_radii(const ToolSurface& tool, const EdgeTable& edges) {
  const auto n = static_cast<std::size_t>(tool.mesh().n_triangles());
  std::vector<double> curvature(n);
  for (std::size_t f = 0; f < n; ++f) curvature[f] = principal_curvatures(tool.facets()[f])(0);
  std::vector<bool> taken(n, false);
  std::vector<RadiusPatch> patches;
  for (std::size_t first = 0; first < n; ++first) {
    if (taken[first] || curvature[first] == 0) continue;
    RadiusPatch patch;
    patch.convex = curvature[first] > 0;
    patch.facets.push_back(static_cast<int>(first));
    taken[first] = true;
    for (std::size_t k = 0; k < patch.facets.size(); ++k) {
      const int f = patch.facets[k];
      for (int i = 0; i < 3; ++i) {
        const int e = edges.of_triangle(f, i);
        const int other = edges.triangles(e, 0) == f ? edges.triangles(e, 1) : edges.triangles(e, 0);
        if (other < 0 || taken[static_cast<std::size_t>(other)]) continue;
        if (!belong_together(curvature[static_cast<std::size_t>(f)],
                             curvature[static_cast<std::size_t>(other)]))
          continue;
        taken[static_cast<std::size_t>(other)] = true;
        patch.facets.push_back(other);
      }
    }
    std::sort(patch.facets.begin(), patch.facets.end());
    patch.radius = smallest_radius(tool, patch.facets, curvature);
    patches.push_back(std::move(patch));
  }
  return patches;
}

}  // namespace halftool::mesh
