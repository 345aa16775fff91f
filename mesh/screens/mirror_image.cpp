#include "mesh/screens/mirror_image.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "mesh/closest_triangle.hpp"

namespace halftool::mesh {
namespace {

constexpr double places_over_extent = 100;

/// The facets of a tool half without those at its lowest level: tray floor, underside.
struct Body {
  explicit Body(const ToolSurface& tool) {
    const SurfaceMesh& mesh = tool.mesh();
    const auto heights = mesh.nodes.col(2);
    const double level = heights.minCoeff() + 1e-6 * (heights.maxCoeff() - heights.minCoeff());
    low.setConstant(std::numeric_limits<double>::infinity());
    high = -low;
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      const auto nodes = mesh.triangles.row(t);
      if (std::all_of(nodes.begin(), nodes.end(), [&](int node) { return heights(node) <= level; })) continue;
      facets.push_back(t);
      for (const int node : nodes) {
        low = low.cwiseMin(mesh.nodes.row(node).transpose());
        high = high.cwiseMax(mesh.nodes.row(node).transpose());
      }
    }
  }

  std::vector<int> facets;
  Eigen::Vector3d low, high;
};

class Mirror {
 public:
  Mirror(const ToolSurface& tool, int axis, const SheetReach& reach, double within, double tolerance)
      : tool_(tool), axis_(axis), reach_(reach), within_(within), tolerance_(tolerance) {
    const auto& nodes = tool.mesh().nodes;
    everywhere_ = (nodes.colwise().maxCoeff() - nodes.colwise().minCoeff()).norm();
  }

  void look_at(const Eigen::Vector3d& place) {
    if (std::abs(place(axis_)) > within_) return;
    Eigen::Vector3d image = place;
    image(axis_) = -image(axis_);
    const double distance = distance_of(image);
    if (distance <= std::max(tolerance_, worst_.distance) || !reach_.reaches(place)) return;
    worst_ = {distance, place};
  }

  /// Rows of places along the longest side and parallel to it.
  void look_over(const CurvedFacet& facet, double spacing) {
    std::array<double, 3> length{};
    for (int i = 0; i < 3; ++i) length[i] = (facet.corner[(i + 1) % 3] - facet.corner[(i + 2) % 3]).norm();
    const int top = static_cast<int>(std::max_element(length.begin(), length.end()) - length.begin());
    const Eigen::Vector3d& from = facet.corner[(top + 1) % 3];
    const Eigen::Vector3d side = facet.corner[(top + 2) % 3] - from;
    const double height = side.cross(facet.corner[top] - from).norm() / side.norm();
    const int n_rows = static_cast<int>(std::ceil(height / spacing));
    for (int k = 0; k < n_rows; ++k) {
      const double up = static_cast<double>(k) / n_rows;
      const int n = std::max(static_cast<int>(std::ceil((1 - up) * length[top] / spacing)), 1);
      for (int i = 0; i <= n; ++i) {
        Eigen::Vector3d share;
        share(top) = up;
        share((top + 2) % 3) = (1 - up) * i / n;
        share((top + 1) % 3) = 1 - share(top) - share((top + 2) % 3);
        look_at(facet.point(share));
      }
    }
  }

  [[nodiscard]] std::optional<MirrorDifference> worst() const {
    if (worst_.distance == 0) return std::nullopt;
    return worst_;
  }

 private:
  [[nodiscard]] double distance_of(const Eigen::Vector3d& x) const {
    const auto flat = tool_.tree().closest(x, everywhere_);
    if (!flat) return everywhere_;
    if (flat->distance <= tolerance_) return flat->distance;
    const auto curved = tool_.nearest(x, flat->distance + tolerance_, flat->triangle);
    return curved ? std::min(std::abs(curved->gap), flat->distance) : flat->distance;
  }

  const ToolSurface& tool_;
  int axis_;
  const SheetReach& reach_;
  double within_, tolerance_, everywhere_;
  MirrorDifference worst_;
};

}  // namespace

SidesOfPlane sides_of_plane(const ToolSurface& tool, int axis) {
  const Body body(tool);
  return {body.low(axis), body.high(axis)};
}

std::optional<MirrorDifference> find_mirror_difference(const ToolSurface& tool, int axis,
                                                       const SheetReach& reach, double within,
                                                       double tolerance) {
  const Body body(tool);
  const double spacing = (body.high - body.low).maxCoeff() / places_over_extent;
  Mirror mirror(tool, axis, reach, within, tolerance);
  std::vector<bool> seen(static_cast<std::size_t>(tool.mesh().n_nodes()), false);
  for (const int t : body.facets) {
    const CurvedFacet& facet = tool.facets()[static_cast<std::size_t>(t)];
    for (int i = 0; i < 3; ++i) {
      const auto node = static_cast<std::size_t>(tool.mesh().triangles(t, i));
      if (!seen[node]) mirror.look_at(facet.corner[i]);
      seen[node] = true;
    }
    const double largest =
        std::max({(facet.corner[1] - facet.corner[0]).norm(), (facet.corner[2] - facet.corner[1]).norm(),
                  (facet.corner[0] - facet.corner[2]).norm()});
    if (largest > spacing) mirror.look_over(facet, spacing);
  }
  return mirror.worst();
}

}  // namespace halftool::mesh
