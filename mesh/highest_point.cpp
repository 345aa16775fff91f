#include "mesh/highest_point.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <limits>
#include <sstream>

#include "mesh/outline.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr int deepest = 10;          // halvings of a facet
constexpr double resolution = 1e-5;  // [mm]; only matters where the highest point is on a slope at the border
constexpr double rounding = 1e-9;    // of places in plan [mm]

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

/// A circle in plan around a patch, which lies within the hull of its control points.
struct Surround {
  Vector2d centre;
  double radius;
};

Surround around(const Patch& patch) {
  Vector2d low = patch.corner[0].head<2>();
  Vector2d high = low;
  for (std::size_t i = 0; i < 3; ++i) {
    low = low.cwiseMin(patch.corner[i].head<2>()).cwiseMin(patch.middle[i].head<2>());
    high = high.cwiseMax(patch.corner[i].head<2>()).cwiseMax(patch.middle[i].head<2>());
  }
  return {0.5 * (low + high), 0.5 * (high - low).norm()};
}

using Segment = std::array<Vector2d, 2>;

double distance_to(const Segment& segment, const Vector2d& x) {
  const Vector2d along = segment[1] - segment[0];
  const double length2 = along.squaredNorm();
  const double share = length2 > 0 ? std::clamp((x - segment[0]).dot(along) / length2, 0.0, 1.0) : 0.0;
  return (x - segment[0] - share * along).norm();
}

/// A border keeps patches away from each other: one that it does not cross lies on one side of it as a whole.
class Search {
 public:
  Search(const std::vector<Vector2d>& outer, const std::vector<std::vector<Vector2d>>& holes)
      : outer_(outer), holes_(holes) {
    add_border(outer);
    for (const auto& hole : holes) add_border(hole);
  }

  void visit(const Patch& patch) { visit(patch, border_, 0); }

  [[nodiscard]] double best() const { return best_; }

 private:
  /// @param border  the part of the region's border that may cross the patch
  void visit(const Patch& patch, const std::vector<Segment>& border, int depth) {
    if (patch.bound() <= best_ + resolution) return;
    const Surround circle = around(patch);
    std::vector<Segment> crossing;
    std::copy_if(border.begin(), border.end(), std::back_inserter(crossing), [&](const Segment& segment) {
      return distance_to(segment, circle.centre) <= circle.radius + rounding;
    });
    if (crossing.empty() && !covers(circle.centre)) return;
    for (const auto& corner : patch.corner)
      if (corner.z() > best_ && (crossing.empty() || covers(corner.head<2>()))) best_ = corner.z();
    if (depth == deepest) return;
    for (const auto& half : halves(patch)) visit(half, crossing, depth + 1);
  }

  void add_border(const std::vector<Vector2d>& polygon) {
    for (std::size_t i = 0; i < polygon.size(); ++i)
      border_.push_back({polygon[i], polygon[(i + 1) % polygon.size()]});
  }
  [[nodiscard]] bool covers(const Vector2d& x) const {
    if (!is_inside(outer_, x)) return false;
    return std::none_of(holes_.begin(), holes_.end(), [&](const auto& hole) { return is_inside(hole, x); });
  }

  const std::vector<Vector2d>& outer_;
  const std::vector<std::vector<Vector2d>>& holes_;
  std::vector<Segment> border_;
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
  for (const auto& patch : patches) search.visit(patch);
  if (search.best() == -std::numeric_limits<double>::infinity()) return std::nullopt;
  return search.best();
}

double resting_level(const PlacedOutline& outline, const ToolSurface& tool) {
  std::vector<std::vector<Vector2d>> holes;
  for (const auto& hole : outline.holes) holes.push_back(as_polygon(hole));
  const auto top = highest_under(tool, as_polygon(outline.outer), holes);
  const auto heights = tool.mesh().nodes.col(2);
  const double rise = heights.maxCoeff() - heights.minCoeff();
  if (top && (rise == 0 || *top > heights.minCoeff() + 1e-6 * rise)) return *top;
  std::ostringstream text;
  text << "the blank, from (" << outline.low.transpose() << ") to (" << outline.high.transpose()
       << ") mm, does not lie over the tool: nothing of it is under the blank"
       << (top ? " but its lowest level" : "")
       << "; place it over the tool, whose frame it shares (blank.place), or, if it lies over an opening of "
          "the tool, make its outline larger than the opening";
  throw MeshError(text.str());
}

}  // namespace halftool::mesh
