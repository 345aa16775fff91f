#include "mesh/highest_point.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "mesh/outline.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr int deepest = 10;          // halvings of a facet
constexpr double resolution = 1e-5;  // [mm]; only matters where the highest point is on a slope at the border

/// Quadratic Bezier triangle by its control points: corners, then the middles facing them.
struct Patch {
  std::array<Vector3d, 3> corner, middle;

  [[nodiscard]] double bound() const {
    double z = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < 3; ++i) z = std::max({z, corner[i].z(), middle[i].z()});
    return z;
  }
};

/// The four patches of half the size (de Casteljau).
std::array<Patch, 4> halves(const Patch& p) {
  std::array<Vector3d, 3> point;  // of the surface, at the middles of the sides
  std::array<std::array<Vector3d, 2>, 3>
      near;  // [i][k]: control point of the half side facing corner i, next to its k-th end
  Patch inner;
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
    near[i] = {0.5 * (p.corner[j] + p.middle[i]), 0.5 * (p.corner[k] + p.middle[i])};
    point[i] = 0.5 * (near[i][0] + near[i][1]);
    inner.corner[i] = point[i];
    // Polar form at the middles of the two sides that meet at corner i.
    inner.middle[i] = 0.25 * (p.corner[i] + p.middle[i] + p.middle[j] + p.middle[k]);
  }
  std::array<Patch, 4> result;
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
    Patch& outer = result[i];
    outer.corner = {p.corner[i], point[k], point[j]};
    outer.middle = {inner.middle[i], near[j][1], near[k][0]};
  }
  result[3] = inner;
  return result;
}

class Search {
 public:
  Search(const std::vector<Vector2d>& outer, const std::vector<std::vector<Vector2d>>& holes)
      : outer_(outer), holes_(holes), low_(outer.front()), high_(outer.front()) {
    for (const auto& x : outer) {
      low_ = low_.cwiseMin(x);
      high_ = high_.cwiseMax(x);
    }
  }

  void visit(const Patch& patch, int depth) {
    if (patch.bound() <= best_ + resolution || misses_box(patch)) return;
    for (const auto& corner : patch.corner) {
      if (corner.z() > best_ && covers(corner.head<2>())) best_ = corner.z();
    }
    if (depth == deepest) return;
    for (const auto& half : halves(patch)) visit(half, depth + 1);
  }

  [[nodiscard]] double best() const { return best_; }

 private:
  [[nodiscard]] bool covers(const Vector2d& x) const {
    if (!is_inside(outer_, x)) return false;
    return std::none_of(holes_.begin(), holes_.end(), [&](const auto& hole) { return is_inside(hole, x); });
  }
  [[nodiscard]] bool misses_box(const Patch& patch) const {
    Vector2d low = patch.corner[0].head<2>();
    Vector2d high = low;
    for (std::size_t i = 0; i < 3; ++i) {
      low = low.cwiseMin(patch.corner[i].head<2>()).cwiseMin(patch.middle[i].head<2>());
      high = high.cwiseMax(patch.corner[i].head<2>()).cwiseMax(patch.middle[i].head<2>());
    }
    return (low.array() > high_.array()).any() || (high.array() < low_.array()).any();
  }

  const std::vector<Vector2d>& outer_;
  const std::vector<std::vector<Vector2d>>& holes_;
  Vector2d low_, high_;
  double best_ = -std::numeric_limits<double>::infinity();
};

}  // namespace

std::optional<double> highest_under(const ToolSurface& tool, const std::vector<Vector2d>& outer,
                                    const std::vector<std::vector<Vector2d>>& holes) {
  std::vector<Patch> patches;
  for (const auto& facet : tool.facets()) patches.push_back({facet.corner, facet.middle});
  std::stable_sort(patches.begin(), patches.end(),
                   [](const Patch& a, const Patch& b) { return a.bound() > b.bound(); });
  Search search(outer, holes);
  for (const auto& patch : patches) search.visit(patch, 0);
  if (search.best() == -std::numeric_limits<double>::infinity()) return std::nullopt;
  return search.best();
}

}  // namespace halftool::mesh
