#include "mesh/blank.hpp"

#include <gmsh.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <sstream>

#include "mesh/flatness.hpp"
#include "mesh/gmsh_session.hpp"
#include "mesh/highest_point.hpp"
#include "mesh/mesh_check.hpp"
#include "mesh/mesh_quality.hpp"
#include "mesh/outline.hpp"
#include "mesh/pins.hpp"
#include "mesh/short_edges.hpp"
#include "mesh/size_field.hpp"
#include "mesh/skip_short_lines.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {
namespace {

namespace occ = gmsh::model::occ;
using Eigen::Vector2d;

constexpr double wanted_angle = 32 * std::numbers::pi / 180;  // triangles below it are worked on
constexpr double plane_tolerance = 1e-7;                      // [mm]

void check(const BlankSpec& spec, const BlankMeshSpec& mesh_spec) {
  const auto require = [](bool good, const std::string& what, double value, const std::string& mend) {
    if (good) return;
    std::ostringstream text;
    text << what << " is " << value << "; " << mend;
    throw MeshError(text.str());
  };
  require(std::isfinite(spec.thickness) && spec.thickness > 0, "the thickness of the blank [mm]",
          spec.thickness, "give a thickness above zero");
  const bool is_placed =
      spec.place.allFinite() && std::isfinite(spec.turn) && std::isfinite(spec.rolling_angle);
  require(is_placed, "place, turn or rolling angle of the blank",
          spec.place.sum() + spec.turn + spec.rolling_angle, "give finite numbers");
  require(spec.flatness.amplitude >= 0 && spec.flatness.amplitude <= 0.5,
          "the unevenness of the blank over its thickness", spec.flatness.amplitude,
          "give 0 to 0.5 (0.01 is usual)");
  require(mesh_spec.elements_per_bend >= 1 && mesh_spec.elements_per_bend <= 100,
          "the number of elements over a 90 degree bend", mesh_spec.elements_per_bend, "give 1 to 100");
  require(std::isfinite(mesh_spec.coarsest) && mesh_spec.coarsest >= 0, "the coarsest edge length [mm]",
          mesh_spec.coarsest, "give a length above zero, or leave it out");
  require(std::isfinite(mesh_spec.uniform) && mesh_spec.uniform >= 0, "the uniform edge length [mm]",
          mesh_spec.uniform, "give a length above zero, or leave it out");
  require(mesh_spec.growth >= 0.02 && mesh_spec.growth <= 1, "the growth of the edge length",
          mesh_spec.growth, "give 0.02 to 1 (0.25 is usual)");
}

int add_spline(const SplineCurve& curve, int start, int end) {
  std::vector<int> points{start};
  for (std::size_t i = 1; i + 1 < curve.points.size(); ++i)
    points.push_back(occ::addPoint(curve.points[i].x(), curve.points[i].y(), 0));
  points.push_back(end);
  std::vector<double> knots;
  std::vector<int> multiplicities;
  for (const double knot : curve.knots) {
    if (knots.empty() || knot > knots.back()) {
      knots.push_back(knot);
      multiplicities.push_back(1);
    } else {
      ++multiplicities.back();
    }
  }
  std::vector<double> weights = curve.weights;
  if (weights.empty()) weights.assign(curve.points.size(), 1.0);
  return occ::addBSpline(points, -1, curve.degree, weights, knots, multiplicities);
}

int add_piece(const OutlinePiece& piece, int start, int end) {
  if (piece.spline) return add_spline(piece.spline->curve, start, end);
  if (!piece.centre) return occ::addLine(start, end);
  return occ::addCircleArc(start, occ::addPoint(piece.centre->x(), piece.centre->y(), 0), end);
}

int add_loop(const Loop& loop) {
  std::vector<int> points, curves;
  for (const auto& piece : loop) points.push_back(occ::addPoint(piece.start.x(), piece.start.y(), 0));
  for (std::size_t i = 0; i < loop.size(); ++i)
    curves.push_back(add_piece(loop[i], points[i], points[(i + 1) % loop.size()]));
  return occ::addCurveLoop(curves);
}

/// Keeps the side x >= 0 (axis 0) or y >= 0 (axis 1) of the surfaces.
gmsh::vectorpair cut_by_plane(const gmsh::vectorpair& surfaces, int axis, const PlacedOutline& outline) {
  const double low = outline.low(axis);
  const double high = outline.high(axis);
  const std::string name = axis == 0 ? "x" : "y";
  if (high <= plane_tolerance) {
    throw MeshError("the symmetry plane " + name + " = 0 leaves nothing of the blank, which lies wholly at " +
                    name + " < 0; move the blank or drop the symmetry");
  }
  if (low >= -plane_tolerance) return surfaces;
  const double reach = 2 * (outline.high - outline.low).norm();
  const Vector2d other(outline.low(1 - axis) - reach, outline.high(1 - axis) + reach);
  const int kept = axis == 0 ? occ::addRectangle(0, other(0), 0, high + reach, other(1) - other(0))
                             : occ::addRectangle(other(0), 0, 0, other(1) - other(0), high + reach);
  gmsh::vectorpair result;
  std::vector<gmsh::vectorpair> map;
  occ::intersect(surfaces, {{2, kept}}, result, map);
  return result;
}

std::vector<int> build_outline(const BlankSpec& spec, const PlacedOutline& outline, const SizeField& sizes) {
  const auto wanted = [&](const Vector2d& x) { return sizes.at(x); };
  std::vector<int> loops{add_loop(skip_short_lines(outline.outer, wanted))};
  for (const auto& hole : outline.holes) loops.push_back(add_loop(skip_short_lines(hole, wanted)));
  gmsh::vectorpair surfaces{{2, occ::addPlaneSurface(loops)}};
  if (spec.symmetric_x) surfaces = cut_by_plane(surfaces, 0, outline);
  if (spec.symmetric_y) surfaces = cut_by_plane(surfaces, 1, outline);
  occ::synchronize();
  if (surfaces.size() != 1) {
    throw MeshError("the symmetry planes cut the blank into " + std::to_string(surfaces.size()) +
                    " pieces; one connected piece is needed");
  }
  return {surfaces.front().second};
}

/// Puts nodes within rounding of a symmetry plane exactly on it.
void snap_to_planes(const BlankSpec& spec, SurfaceMesh& mesh) {
  for (int axis = 0; axis < 2; ++axis) {
    if (!(axis == 0 ? spec.symmetric_x : spec.symmetric_y)) continue;
    for (int i = 0; i < mesh.n_nodes(); ++i) {
      if (std::abs(mesh.nodes(i, axis)) < plane_tolerance) mesh.nodes(i, axis) = 0;
    }
  }
}

void turn_up(SurfaceMesh& mesh) {
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Vector2d a = mesh.nodes.row(mesh.triangles(t, 0)).head<2>();
    const Vector2d b = mesh.nodes.row(mesh.triangles(t, 1)).head<2>().transpose() - a;
    const Vector2d c = mesh.nodes.row(mesh.triangles(t, 2)).head<2>().transpose() - a;
    if (b.x() * c.y() - b.y() * c.x() < 0) std::swap(mesh.triangles(t, 1), mesh.triangles(t, 2));
  }
}

std::vector<bool> border_nodes(const SurfaceMesh& mesh) {
  const EdgeTable edges = build_edges(mesh);
  std::vector<bool> border(static_cast<std::size_t>(mesh.n_nodes()), false);
  for (int e = 0; e < edges.n_edges(); ++e) {
    if (!edges.is_boundary(e)) continue;
    border[static_cast<std::size_t>(edges.nodes(e, 0))] = true;
    border[static_cast<std::size_t>(edges.nodes(e, 1))] = true;
  }
  return border;
}

/// Distance of the farther end of an edge from a loop [mm].
double distance_to_edge(const Loop& loop, const Vector2d& a, const Vector2d& b) {
  return std::max(distance_to(loop, a), distance_to(loop, b));
}

/// The hole that a border edge belongs to; nothing on the outer outline.
std::optional<std::size_t> hole_at(const PlacedOutline& outline, const Vector2d& a, const Vector2d& b) {
  double nearest = distance_to_edge(outline.outer, a, b);
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < outline.holes.size(); ++i) {
    const double distance = distance_to_edge(outline.holes[i], a, b);
    if (distance >= nearest) continue;
    nearest = distance;
    found = i;
  }
  return found;
}

/// Kinds of the edges, and the rims of holes with pins.
void sort_edges(const BlankSpec& spec, const PlacedOutline& outline, Blank& blank) {
  blank.edges = build_edges(blank.mesh);
  blank.edge_kind.assign(static_cast<std::size_t>(blank.edges.n_edges()), EdgeKind::interior);
  std::vector<std::vector<int>> rims(outline.holes.size());
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (!blank.edges.is_boundary(e)) continue;
    EdgeKind& kind = blank.edge_kind[static_cast<std::size_t>(e)];
    const Vector2d a = blank.mesh.nodes.row(blank.edges.nodes(e, 0)).head<2>();
    const Vector2d b = blank.mesh.nodes.row(blank.edges.nodes(e, 1)).head<2>();
    if (spec.symmetric_x && a.x() == 0 && b.x() == 0) {
      kind = EdgeKind::symmetry_x;
    } else if (spec.symmetric_y && a.y() == 0 && b.y() == 0) {
      kind = EdgeKind::symmetry_y;
    } else if (const auto hole = hole_at(outline, a, b)) {
      kind = EdgeKind::hole;
      rims[*hole].push_back(e);
    } else {
      kind = EdgeKind::outer;
    }
  }
  for (const PlacedPin& placed : place_pins(spec, outline))
    if (!rims[placed.hole].empty()) blank.pins.push_back({placed.pin, placed.clearance, rims[placed.hole]});
}

}  // namespace

Blank make_blank(const BlankSpec& spec, const BlankMeshSpec& mesh_spec, const ToolSurface& tool,
                 const std::vector<const ToolSurface*>& later) {
  check(spec, mesh_spec);
  const PlacedOutline outline = place_outline(spec);
  place_pins(spec, outline);  // what does not fit is told before anything is meshed
  const double height = resting_level(outline, tool) + spec.thickness / 2;
  SizeField sizes(mesh_spec, spec.thickness, outline, tool);
  for (const ToolSurface* other : later) sizes.add_tool(mesh_spec, spec.thickness, *other);

  Blank blank;
  {
    const GmshSession session;
    std::vector<int> surfaces;
    session.run("drawing the blank", [&] { surfaces = build_outline(spec, outline, sizes); });
    session.generate_surface_mesh([&](int, int, double x, double y, double) { return sizes.at({x, y}); });
    blank.mesh = extract_triangles(session, surfaces).mesh;
  }
  snap_to_planes(spec, blank.mesh);
  turn_up(blank.mesh);
  merge_short_border_edges(blank.mesh, [&](const Vector2d& x) { return sizes.at(x); });
  improve_angles(blank.mesh, border_nodes(blank.mesh), wanted_angle);
  blank.mesh.nodes.col(2).setConstant(height);
  make_uneven(spec, tool, blank.mesh.nodes);
  sort_edges(spec, outline, blank);
  check_triangles(blank.mesh, blank.edges);
  blank.thickness = spec.thickness;
  const double rolling = spec.turn + spec.rolling_angle;
  blank.rolling_direction = {std::cos(rolling), std::sin(rolling)};
  blank.rim_held = spec.rim_held;
  blank.size_reasons = sizes.reasons(blank.mesh);
  return blank;
}

}  // namespace halftool::mesh
