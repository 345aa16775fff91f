#include "mesh/size_field.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <sstream>
#include <tuple>

namespace halftool::mesh {
namespace {

constexpr double quarter_turn = std::numbers::pi / 2;
constexpr double arc_edge = std::numbers::pi / 12;  // angle of one edge along holes and rounded corners
constexpr double lift_off = 2;                      // width of the fine band beyond the bend, in thicknesses
constexpr double depth_share = 0.5;  // widening of the band, in depths of the radius below the top

std::string number(double value) {
  std::ostringstream text;
  text.precision(3);
  text << value;
  return text.str();
}

/// Edge length where nothing asks for less: a twelfth of the blank. The flange must still bend smoothly,
/// hence not above four thicknesses; on large blanks that would be needlessly fine, hence at least a fortieth
/// of the blank; on narrow strips a twelfth would be, hence at least one thickness or half the strip.
double default_coarsest(double smaller_extent, double thickness) {
  const double ceiling = std::max(4 * thickness, smaller_extent / 40);
  const double floor = std::min(thickness, smaller_extent / 2);
  return std::clamp(smaller_extent / 12, floor, std::max(floor, ceiling));
}

double bend_size(const RadiusPatch& patch, double thickness, double elements_per_bend) {
  const double half = thickness / 2;
  const double mid_radius = patch.convex ? patch.radius + half : std::max(patch.radius - half, half);
  return std::max(mid_radius * quarter_turn / elements_per_bend, thickness / 4);
}

/// A sheet on the tool meets only what does not look down.
bool can_be_met(const ToolSurface& tool, int facet) {
  const auto& corners = tool.facets()[static_cast<std::size_t>(facet)].normal;
  return corners[0].z() + corners[1].z() + corners[2].z() > -1.5;
}

/// The facets of some patches seen along the press axis.
SurfaceMesh plan_of(const ToolSurface& tool, const std::vector<int>& facets) {
  SurfaceMesh plan;
  plan.nodes.resize(static_cast<Eigen::Index>(3 * facets.size()), 3);
  plan.triangles.resize(static_cast<Eigen::Index>(facets.size()), 3);
  for (std::size_t k = 0; k < facets.size(); ++k) {
    const auto& corners = tool.facets()[static_cast<std::size_t>(facets[k])].corner;
    for (std::size_t i = 0; i < 3; ++i) {
      const auto row = static_cast<int>(3 * k + i);
      plan.nodes.row(row) << corners[i].x(), corners[i].y(), 0.0;
      plan.triangles(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(i)) = row;
    }
  }
  return plan;
}

double highest(const ToolSurface& tool, const std::vector<int>& facets) {
  double z = -1e300;
  for (const int f : facets) {
    for (const auto& corner : tool.facets()[static_cast<std::size_t>(f)].corner) z = std::max(z, corner.z());
  }
  return z;
}

}  // namespace

SizeField::SizeField(const BlankMeshSpec& spec, double thickness, const PlacedOutline& outline,
                     const ToolSurface& tool)
    : growth_(spec.growth) {
  if (spec.uniform > 0) {
    coarsest_ = spec.uniform;
    base_reason_ = number(coarsest_) + " mm everywhere, as asked";
    return;
  }
  coarsest_ = spec.coarsest > 0 ? spec.coarsest : default_coarsest(outline.smaller_extent, thickness);
  base_reason_ =
      number(coarsest_) + " mm at most elsewhere" +
      (spec.coarsest > 0 ? ", as asked" : ", from the blank's smaller extent and four thicknesses");
  add_radii(spec, thickness, tool);
  add_curves(thickness, outline);
}

void SizeField::add_radii(const BlankMeshSpec& spec, double thickness, const ToolSurface& tool) {
  struct Group {
    RadiusPatch patch;
    double depth;
  };
  const double top = tool.mesh().nodes.col(2).maxCoeff();
  std::map<std::tuple<bool, long, long>, Group> groups;  // by convexity, radius, depth
  for (RadiusPatch& patch : find_radii(tool)) {
    std::erase_if(patch.facets, [&](int f) { return !can_be_met(tool, f); });
    if (patch.facets.empty()) continue;
    const double depth = std::max(0.0, top - highest(tool, patch.facets));
    const std::tuple key{patch.convex, std::lround(50 * std::log(patch.radius)),
                         std::lround(depth / thickness)};
    const auto [entry, is_new] = groups.try_emplace(key, Group{patch, depth});
    if (is_new) continue;
    Group& group = entry->second;
    group.patch.radius = std::min(group.patch.radius, patch.radius);
    group.depth = std::max(group.depth, depth);
    group.patch.facets.insert(group.patch.facets.end(), patch.facets.begin(), patch.facets.end());
  }
  for (const auto& [key, group] : groups) {
    const RadiusPatch& patch = group.patch;
    const double size = bend_size(patch, thickness, spec.elements_per_bend);
    if (size >= coarsest_) continue;
    const double beyond = std::max(0.0, (patch.radius + thickness / 2) * quarter_turn - patch.radius);
    std::ostringstream reason;
    reason.precision(3);
    reason << size << " mm around the " << (patch.convex ? "outside" : "inside") << " tool radius of "
           << patch.radius << " mm: " << spec.elements_per_bend
           << " elements over 90 degrees of the sheet's mid-surface";
    radii_.push_back({size, beyond + lift_off * thickness + depth_share * group.depth,
                      TriangleTree(plan_of(tool, patch.facets)), reason.str()});
  }
}

void SizeField::add_curves(double thickness, const PlacedOutline& outline) {
  const auto size_of = [&](double radius) { return std::max(arc_edge * radius, thickness / 2); };
  for (std::size_t i = 0; i < outline.holes.size(); ++i) {
    const double radius = outline.holes[i].front().radius();
    curves_.push_back({size_of(radius), outline.holes[i],
                       number(size_of(radius)) + " mm along hole " + std::to_string(i + 1) + " of radius " +
                           number(radius) + " mm: 15 degrees an edge"});
  }
  for (const auto& piece : outline.outer) {
    if (!piece.centre) continue;
    curves_.push_back({size_of(piece.radius()),
                       {piece},
                       number(size_of(piece.radius())) + " mm along " + piece.name +
                           " of the blank, radius " + number(piece.radius()) + " mm: 15 degrees an edge"});
  }
  std::erase_if(curves_, [&](const CurveDemand& cause) { return cause.size >= coarsest_; });
}

double SizeField::demand(const RadiusDemand& cause, const Eigen::Vector2d& x) const {
  const double reach = growth_ > 0 ? cause.band + (coarsest_ - cause.size) / growth_ : cause.band;
  const auto found = cause.plan.closest({x.x(), x.y(), 0}, reach);
  if (!found) return coarsest_;
  return cause.size + growth_ * std::max(0.0, found->distance - cause.band);
}

double SizeField::demand(const CurveDemand& cause, const Eigen::Vector2d& x) const {
  double distance = 1e300;
  for (const auto& piece : cause.pieces) distance = std::min(distance, distance_to(piece, x));
  return cause.size + growth_ * distance;
}

double SizeField::at(const Eigen::Vector2d& x) const {
  double size = coarsest_;
  for (const auto& cause : radii_) size = std::min(size, demand(cause, x));
  for (const auto& cause : curves_) size = std::min(size, demand(cause, x));
  return size;
}

std::vector<std::string> SizeField::reasons(const SurfaceMesh& mesh) const {
  std::vector<std::string> lines;
  const auto governs = [&](const auto& cause) {
    for (int i = 0; i < mesh.n_nodes(); ++i) {
      const Eigen::Vector2d x = mesh.nodes.row(i).head<2>();
      if (demand(cause, x) < std::min(at(x) * (1 + 1e-9), coarsest_)) return true;
    }
    return false;
  };
  for (const auto& cause : radii_) {
    if (governs(cause)) lines.push_back(cause.reason);
  }
  for (const auto& cause : curves_) {
    if (governs(cause)) lines.push_back(cause.reason);
  }
  lines.push_back(base_reason_);
  return lines;
}

}  // namespace halftool::mesh
