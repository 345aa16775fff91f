#include "mesh/convex_hull.hpp"

#include <algorithm>

#include "mesh/outline_piece.hpp"

namespace halftool::mesh {

std::vector<Eigen::Vector2d> convex_hull(std::vector<Eigen::Vector2d> points) {
  std::sort(points.begin(), points.end(), [](const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
    return a.x() < b.x() || (a.x() == b.x() && a.y() < b.y());
  });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 2) return points;
  std::vector<Eigen::Vector2d> hull;
  for (int side = 0; side < 2; ++side) {  // along the lower side, back on the upper
    const std::size_t first = hull.size();
    for (const Eigen::Vector2d& x : points) {
      while (hull.size() >= first + 2 && cross(hull.back() - hull[hull.size() - 2], x - hull.back()) <= 0)
        hull.pop_back();
      hull.push_back(x);
    }
    hull.pop_back();  // the first of the other side
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

}  // namespace halftool::mesh
