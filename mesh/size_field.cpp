#include "mesh/size_field.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <sstream>
#include <tuple>

#include "mesh/shut_in.hpp"
#include "mesh/skip_short_lines.hpp"

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

/// A sheet on the tool meets only what does not look down, and nothing that the tool covers.
bool can_be_met(const ToolSurface& tool, int facet) {
  const auto& corners = tool.facets()[static_cast<std::size_t>(facet)].normal;
  return corners[0].z() + corners[1].z() + corners[2].z() > -1.5 && !is_shut_in(tool, facet);
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

/// A part of an outline that bends evenly.
struct CurvePart {
  OutlinePiece piece;
  double radius = 0;  ///< [mm]
  std::string name;
  bool varies = false;  ///< one of many parts of a curve that bends unevenly
};

/// The next smaller radius on a scale by tenths, so that causes can be gathered.
double in_steps(double radius) {
  return std::exp(0.1 * std::floor(10 * std::log(radius)));
}

/// The chords of a spline, each with the smaller radius of its ends.
std::vector<CurvePart> parts_of_spline(const OutlinePiece& piece, const std::string& name) {
  constexpr double flat = 1e6;  // no radius of a blank [mm]
  const auto& [points, radius] = piece.spline->samples;
  std::vector<CurvePart> parts;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const double tighter = std::max(std::min(radius[i], radius[i + 1]), 1e-3);
    if (tighter > flat) continue;
    parts.push_back({{points[i], points[i + 1], std::nullopt, piece.name}, tighter, name, true});
  }
  return parts;
}

/// Two lines of a curve that was drawn as chords.
std::optional<CurvePart> part_of_chords(const OutlinePiece& line, const OutlinePiece& next,
                                        const std::string& of) {
  const double turn = std::abs(turn_between(line, next));
  if (turn < 1e-3 || turn > corner_turn) return std::nullopt;
  const double radius = 0.5 * (length_of(line) + length_of(next)) / turn;
  return CurvePart{{line.start, next.end, std::nullopt, line.name}, radius, line.name + of, true};
}

std::vector<CurvePart> curved_parts(const Loop& loop, const std::string& of) {
  std::vector<CurvePart> parts;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const OutlinePiece& piece = loop[i];
    if (piece.spline) {
      const auto more = parts_of_spline(piece, piece.name + of);
      parts.insert(parts.end(), more.begin(), more.end());
    } else if (piece.centre) {
      parts.push_back({piece, piece.radius(), piece.name + of});
    } else if (const auto chords = part_of_chords(piece, loop[(i + 1) % loop.size()], of)) {
      parts.push_back(*chords);
    }
  }
  return parts;
}

/// Whether a loop is one circle.
bool is_round(const Loop& loop) {
  return std::all_of(loop.begin(), loop.end(), [&](const OutlinePiece& piece) {
    return piece.centre && (*piece.centre - *loop.front().centre).norm() < 1e-9 * (1 + piece.radius());
  });
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

void SizeField::add_tool(const BlankMeshSpec& spec, double thickness, const ToolSurface& tool) {
  if (!(spec.uniform > 0)) add_radii(spec, thickness, tool);
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
  std::vector<CurvePart> parts;
  const auto add = [&](const Loop& loop, const std::string& of) {
    for (auto& part : curved_parts(loop, of)) parts.push_back(std::move(part));
  };
  for (const auto& hole : outline.holes) add(hole, is_round(hole) ? " of" : " of the blank,");
  add(outline.outer, " of the blank,");
  std::map<std::string, double> tightest;  // radius of curves that bend unevenly
  for (const auto& part : parts) {
    const auto [entry, is_new] = tightest.try_emplace(part.name, part.radius);
    entry->second = std::min(entry->second, part.radius);
  }
  const auto size_of = [&](double radius) { return std::max(arc_edge * radius, thickness / 2); };
  const auto reason_of = [&](const CurvePart& part) {
    const double radius = part.varies ? tightest.at(part.name) : part.radius;
    return number(size_of(radius)) + " mm " + (part.varies ? "or more along " : "along ") + part.name +
           " radius " + (part.varies ? "from " : "") + number(radius) + " mm: 15 degrees an edge";
  };
  for (const auto& part : parts) {
    const double size = size_of(part.varies ? in_steps(part.radius) : part.radius);
    const std::string reason = reason_of(part);
    const auto same = std::find_if(curves_.begin(), curves_.end(), [&](const CurveDemand& cause) {
      return cause.size == size && cause.reason == reason;
    });
    if (same == curves_.end())
      curves_.push_back({size, {part.piece}, reason});
    else
      same->pieces.push_back(part.piece);
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
  return cause.size + growth_ * distance_to(cause.pieces, x);
}

double SizeField::at(const Eigen::Vector2d& x) const {
  double size = coarsest_;
  const auto lower = [&](const auto& causes) {
    for (const auto& cause : causes)
      if (cause.size < size) size = std::min(size, demand(cause, x));  // it never asks for less
  };
  lower(radii_);
  lower(curves_);
  return size;
}

std::vector<std::string> SizeField::reasons(const SurfaceMesh& mesh) const {
  std::vector<std::string> lines;
  std::vector<double> sizes;  // at the nodes
  sizes.reserve(static_cast<std::size_t>(mesh.n_nodes()));
  for (int i = 0; i < mesh.n_nodes(); ++i) sizes.push_back(at(mesh.nodes.row(i).head<2>()));
  const auto governs = [&](const auto& cause) {
    for (int i = 0; i < mesh.n_nodes(); ++i) {
      const double size = sizes[static_cast<std::size_t>(i)];
      if (cause.size <= size * (1 + 1e-9) &&
          demand(cause, mesh.nodes.row(i).head<2>()) < std::min(size * (1 + 1e-9), coarsest_))
        return true;
    }
    return false;
  };
  const auto say = [&](const auto& cause) {
    const bool is_said = std::find(lines.begin(), lines.end(), cause.reason) != lines.end();
    if (!is_said && governs(cause)) lines.push_back(cause.reason);
  };
  for (const auto& cause : radii_) say(cause);
  for (const auto& cause : curves_) say(cause);
  lines.push_back(base_reason_);
  return lines;
}

}  // namespace halftool::mesh
