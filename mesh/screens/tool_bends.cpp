#include "mesh/screens/tool_bends.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <set>

#include "mesh/outline_piece.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr double degree = std::numbers::pi / 180;
constexpr double least_turn = 20 * degree;
constexpr double straight_turn = 2 * degree;  // in plan, along a whole edge: own judgement
constexpr double alike = 0.3;                 // ratio of difference to the larger plan curvature
constexpr double least_lean = 0.2;            // horizontal part of a normal that points out of the edge
constexpr double least_length = 0.5;          // of an edge, in its radii: less is noise of facets
constexpr double least_span = 0.02;  // of a facet along the edge, in its radii: less says nothing of the plan

/// A corner of a facet seen along the edge: where its normal leads to in plan.
struct EdgeSample {
  Vector2d axis, outward;  // on the axis of the rounding; unit
  [[nodiscard]] Vector2d on_line(double radius) const { return axis + radius * outward; }
};

std::optional<EdgeSample> sample_of(const Vector3d& place, const Vector3d& normal, double radius) {
  const Vector2d flat = normal.head<2>();
  if (flat.norm() < least_lean) return std::nullopt;
  return EdgeSample{(place - radius * normal).head<2>(), flat.normalized()};
}

/// A facet of the rounding, as far as its corners lean.
struct EdgeFacet {
  int facet = -1;
  std::optional<double> curvature;  // in plan [1/mm]
  EdgeSample middle;
};

EdgeFacet edge_facet(int facet, double radius, const ToolView& view) {
  const CurvedFacet& curved = view.tool().facets()[static_cast<std::size_t>(facet)];
  EdgeFacet result;
  result.facet = facet;
  std::vector<EdgeSample> samples;
  for (std::size_t i = 0; i < 3; ++i)
    if (const auto sample = sample_of(curved.corner[i], curved.normal[i], radius)) samples.push_back(*sample);
  if (samples.size() < 2) return result;
  Vector2d outward(0, 0), axis(0, 0);
  for (const EdgeSample& sample : samples) {
    outward += sample.outward;
    axis += sample.axis / static_cast<double>(samples.size());
  }
  result.middle = {axis, outward.normalized()};
  const Vector2d along(-result.middle.outward.y(), result.middle.outward.x());
  const Vector2d centre = result.middle.on_line(radius);
  double square = 0, product = 0;
  for (const EdgeSample& sample : samples) {
    const double s = (sample.on_line(radius) - centre).dot(along);
    square += s * s;
    product += s * std::asin(std::clamp(cross(result.middle.outward, sample.outward), -1.0, 1.0));
  }
  if (square > std::pow(least_span * radius, 2)) result.curvature = product / square;
  return result;
}

bool agree(double a, double b, double radius) {
  const double noise = 0.005 / radius;
  return std::abs(a - b) <= std::max(noise, alike * std::max(std::abs(a), std::abs(b)));
}

/// Looks from a rounded edge outward over the sheet.
class EdgeMeasure {
 public:
  EdgeMeasure(const ToolView& view, const SheetReach& reach, double radius)
      : view_(view), reach_(reach), radius_(radius) {}

  std::optional<ToolBend> measure(const std::vector<EdgeFacet>& facets) {
    bend_.radius = radius_;
    for (const EdgeFacet& facet : facets) {
      span(facet.facet, whole_);
      if (facet.curvature) span(facet.facet, known_);
    }
    for (const EdgeFacet& facet : facets)
      if (facet.curvature) add(facet);
    bend_.turn = whole_.turn();
    if (bend_.turn < least_turn || known_.turn() < least_turn / 2) return std::nullopt;
    bend_.length = known_area_ / (radius_ * known_.turn());
    if (bend_.length < least_length * radius_) return std::nullopt;
    bend_.plan_curvature /= known_area_;
    if (std::abs(bend_.plan_curvature) * bend_.length < straight_turn) bend_.plan_curvature = 0;
    if (bend_.outward.norm() > 0.1 * known_area_)
      bend_.outward.normalize();
    else
      bend_.outward.setZero();
    if (free_area_ > 0.5 * known_area_)
      bend_.overhang = free_overhang_ / free_area_;
    else
      bend_.longest_overhang = std::numeric_limits<double>::quiet_NaN();
    place(facets);
    return bend_;
  }

 private:
  /// Leans of the normals from the press axis.
  struct Leans {
    double flattest = std::numbers::pi, steepest = 0;  // [rad]
    [[nodiscard]] double turn() const { return steepest - flattest; }
  };

  void span(int facet, Leans& leans) {
    const CurvedFacet& curved = view_.tool().facets()[static_cast<std::size_t>(facet)];
    for (std::size_t i = 0; i < 3; ++i) {
      const double lean = std::acos(std::clamp(curved.normal[i].z(), -1.0, 1.0));
      leans.steepest = std::max(leans.steepest, lean);
      leans.flattest = std::min(leans.flattest, lean);
      lowest_ = std::min(lowest_, curved.corner[i].z());
    }
  }

  void add(const EdgeFacet& facet) {
    const double area = view_.area(facet.facet);
    known_area_ += area;
    mean_ += area * view_.middle(facet.facet);
    bend_.plan_curvature += area * *facet.curvature;
    bend_.outward += area * facet.middle.outward;
    bend_.line.push_back(facet.middle.on_line(radius_));
    const auto overhang = overhang_at(facet.middle);
    if (!overhang) return;
    free_area_ += area;
    free_overhang_ += area * *overhang;
    if (!(*overhang <= bend_.longest_overhang)) bend_.longest_overhang = *overhang;
  }

  /// Flat length to the cut edge, if the tool does not rise under it again to where the edge ends.
  [[nodiscard]] std::optional<double> overhang_at(const EdgeSample& from) const {
    const double length = reach_.to_cut_edge(from.axis, from.outward);
    if (length <= radius_) return std::nullopt;
    constexpr int looks = 24;
    for (int i = 1; i <= looks; ++i) {
      const double at = 1.01 * radius_ + (length - radius_) * i / looks;
      if (view_.height_at(from.axis + at * from.outward) > lowest_ + 0.01 * radius_) return std::nullopt;
    }
    return length;
  }

  void place(const std::vector<EdgeFacet>& facets) {
    const Vector3d mean = mean_ / known_area_;
    const auto far = [&](const EdgeFacet& f) { return (view_.middle(f.facet) - mean).squaredNorm(); };
    bend_.at = view_.middle(std::min_element(facets.begin(), facets.end(), [&](const auto& a, const auto& b) {
                              return far(a) < far(b);
                            })->facet);
  }

  const ToolView& view_;
  const SheetReach& reach_;
  double radius_;
  ToolBend bend_;
  Leans whole_, known_;
  double lowest_ = std::numeric_limits<double>::infinity();
  double known_area_ = 0, free_area_ = 0, free_overhang_ = 0;
  Vector3d mean_ = Vector3d::Zero();
};

/// Splits a patch into connected parts whose facets agree in plan curvature with their neighbours. Facets
/// that do not show one, near the flat, go with every part that leads to them.
class PatchParts {
 public:
  PatchParts(const std::map<int, EdgeFacet>& facets, double radius, const EdgeTable& edges)
      : facets_(facets), radius_(radius), edges_(edges) {}

  std::vector<std::vector<EdgeFacet>> split() {
    std::vector<std::vector<EdgeFacet>> parts;
    for (const auto& [first, seed] : facets_)
      if (seed.curvature && taken_.insert(first).second) parts.push_back(part_from(seed));
    return parts;
  }

 private:
  std::vector<EdgeFacet> part_from(const EdgeFacet& seed) {
    std::vector<EdgeFacet> part = {seed};
    std::set<int> near_flat;
    for (std::size_t k = 0; k < part.size(); ++k)
      for (int i = 0; i < 3; ++i) {
        const EdgeFacet here = part[k];
        const EdgeFacet* next = across(here.facet, i);
        if (next == nullptr) continue;
        const bool joins = next->curvature
                               ? here.curvature && agree(*here.curvature, *next->curvature, radius_) &&
                                     taken_.insert(next->facet).second
                               : near_flat.insert(next->facet).second;
        if (joins) part.push_back(*next);
      }
    return part;
  }

  [[nodiscard]] const EdgeFacet* across(int facet, int side) const {
    const int e = edges_.of_triangle(facet, side);
    const int other = edges_.triangles(e, 0) == facet ? edges_.triangles(e, 1) : edges_.triangles(e, 0);
    const auto found = facets_.find(other);
    return found == facets_.end() ? nullptr : &found->second;
  }

  const std::map<int, EdgeFacet>& facets_;
  double radius_;
  const EdgeTable& edges_;
  std::set<int> taken_;
};

}  // namespace

std::vector<ToolBend> find_tool_bends(const ToolView& view, const SheetReach& reach, bool symmetric_x,
                                      bool symmetric_y) {
  std::vector<ToolBend> bends;
  for (const RadiusPatch& patch : view.radii()) {
    if (!patch.convex) continue;
    std::map<int, EdgeFacet> facets;
    for (const int f : patch.facets) {
      const Vector3d middle = view.middle(f);
      if (!reach.reaches(middle)) continue;
      const EdgeFacet facet = edge_facet(f, patch.radius, view);
      const bool left_out = (symmetric_x && middle.x() < 0) || (symmetric_y && middle.y() < 0);
      if (!left_out || !facet.curvature) facets[f] = facet;
    }
    for (const auto& part : PatchParts(facets, patch.radius, view.edges()).split())
      if (auto bend = EdgeMeasure(view, reach, patch.radius).measure(part)) bends.push_back(std::move(*bend));
  }
  std::stable_sort(bends.begin(), bends.end(),
                   [](const ToolBend& a, const ToolBend& b) { return a.length > b.length; });
  return bends;
}

}  // namespace halftool::mesh
