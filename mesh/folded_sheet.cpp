#include "mesh/folded_sheet.hpp"

#include <set>

#include "mesh/crossings.hpp"

namespace halftool::mesh {

FoldedSheet find_folds(const SurfaceMesh& mid_surface, double tolerance, bool symmetric_x, bool symmetric_y) {
  std::set<int> crossing;
  for (const auto& pair : crossing_facets(mid_surface, tolerance)) crossing.insert(pair.begin(), pair.end());
  const auto middle = [&](int t) -> Eigen::Vector3d {
    return (mid_surface.nodes.row(mid_surface.triangles(t, 0)) +
            mid_surface.nodes.row(mid_surface.triangles(t, 1)) +
            mid_surface.nodes.row(mid_surface.triangles(t, 2))) /
           3;
  };
  for (int t = 0; t < mid_surface.n_triangles(); ++t) {
    const Eigen::Vector3d at = middle(t);
    if ((symmetric_x && at.x() < -tolerance) || (symmetric_y && at.y() < -tolerance)) crossing.insert(t);
  }
  if (crossing.empty()) return {};
  return {static_cast<int>(crossing.size()), middle(*crossing.begin())};
}

}  // namespace halftool::mesh
