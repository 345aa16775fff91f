#include "mesh/stl_tool.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

#include "mesh/crossings.hpp"
#include "mesh/facet_corners.hpp"
#include "mesh/facet_net.hpp"
#include "mesh/facet_repair.hpp"
#include "mesh/facet_splitting.hpp"
#include "mesh/holes.hpp"
#include "mesh/noisy_flats.hpp"
#include "mesh/open_seams.hpp"
#include "mesh/orientation.hpp"
#include "mesh/stl_file.hpp"

namespace halftool::mesh {
namespace {

constexpr double quarter = std::numbers::pi / 2;
constexpr double enough_facets = 9;  // over 90 degrees
constexpr double typical_share = 0.3;
constexpr std::size_t most_radii_named = 3;

void put_in_place(SurfaceMesh& mesh, const Placement& placement) {
  const Eigen::Matrix3d rotation =
      (Eigen::AngleAxisd(placement.turn, Eigen::Vector3d::UnitZ()) * upright(placement.press_axis))
          .toRotationMatrix();
  mesh.nodes = (mesh.nodes * rotation.transpose()).rowwise() + placement.place.transpose();
}

int orient(SurfaceMesh& mesh, std::vector<std::string>& notes) {
  const Triangles before = mesh.triangles;
  const int n_open = orient_outward(mesh);
  int count = 0;
  int first = -1;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (before(t, 1) == mesh.triangles(t, 1)) continue;
    if (count++ == 0) first = t;
  }
  if (count == 0) return n_open;
  std::ostringstream text;
  text << "repaired: ";
  if (count == mesh.n_triangles()) {
    text << "all facets looked into the tool and were turned over";
  } else {
    text << count << " of " << mesh.n_triangles() << " facets turned over to look outward, the first at ("
         << mesh.nodes(mesh.triangles(first, 0), 0) << ", " << mesh.nodes(mesh.triangles(first, 0), 1) << ", "
         << mesh.nodes(mesh.triangles(first, 0), 2) << ") mm";
  }
  notes.push_back(text.str());
  return n_open;
}

/// A radius and how finely it is faceted.
struct Facetting {
  double radius, per_quarter;
  Eigen::Vector3d at;
};

/// The turn [rad] between flat facets of a patch that is reached or passed along a part of their common
/// edges, by length: across a round, not along it. Edges without a turn (diagonals of plane strips) do not
/// count.
double typical_turn(const SurfaceMesh& mesh, const EdgeTable& edges, const Points& normals,
                    const RadiusPatch& patch) {
  std::vector<std::pair<double, double>> turn_and_length;
  double length = 0;
  for (const int t : patch.facets) {
    for (int i = 0; i < 3; ++i) {
      const int e = edges.of_triangle(t, i);
      if (edges.is_boundary(e)) continue;
      const int other = edges.triangles(e, 0) == t ? edges.triangles(e, 1) : edges.triangles(e, 0);
      if (!std::binary_search(patch.facets.begin(), patch.facets.end(), other)) continue;
      const double turn = 2 * std::asin(std::min(1.0, 0.5 * (normals.row(t) - normals.row(other)).norm()));
      if (turn < 1e-3) continue;
      const double along = (mesh.nodes.row(edges.nodes(e, 0)) - mesh.nodes.row(edges.nodes(e, 1))).norm();
      turn_and_length.emplace_back(turn, along);
      length += along;
    }
  }
  std::sort(turn_and_length.rbegin(), turn_and_length.rend());
  double passed = 0;
  for (const auto& [turn, along] : turn_and_length) {
    passed += along;
    if (passed >= typical_share * length) return turn;
  }
  return 0;
}

double largest_bulge(const std::vector<CurvedFacet>& facets) {
  double largest = 0;
  for (const CurvedFacet& facet : facets) largest = std::max(largest, bulge_of(facet));
  return largest;
}

}  // namespace

ToolFacets facets_of_stl(const StlShape& shape, bool tray_floor, std::vector<std::string>& notes) {
  ToolFacets facets;
  facets.mesh = read_stl(shape.path, shape.unit);
  put_in_place(facets.mesh, shape.placement);
  repair_facets(facets.mesh, notes);
  fill_small_holes(facets.mesh, notes);
  refuse_branching_seam(facets.mesh);
  facets.n_open_pieces = orient(facets.mesh, notes);
  refuse_holes(facets.mesh, tray_floor);
  refuse_crossings(facets.mesh);
  refuse_nested_pieces(facets.mesh);
  const EdgeTable edges = build_edges(facets.mesh);
  facets.corner_normals = estimate_beside_noisy_flats(facets.mesh, edges, notes);
  facets.geometric_error = largest_bulge(build_facet_net(facets.mesh, facets.corner_normals).facets);
  if (const int added = split_curved_slivers(facets.mesh, facets.corner_normals); added > 0) {
    notes.push_back("long facets along curved edges were split: " + std::to_string(added) + " facets added");
  }
  facets.surface_of.assign(static_cast<std::size_t>(facets.mesh.n_triangles()), 0);
  facets.largest_turn = largest_turn(facets.corner_normals);
  return facets;
}

std::vector<std::string> note_coarse_radii(const ToolSurface& tool) {
  const EdgeTable edges = build_edges(tool.mesh());
  const Points normals = facet_normals(tool.mesh());
  std::vector<Facetting> coarse;
  for (const RadiusPatch& patch : find_radii(tool)) {
    const double turn = typical_turn(tool.mesh(), edges, normals, patch);
    if (turn == 0 || quarter / turn > enough_facets - 0.05) continue;
    coarse.push_back(
        {patch.radius, quarter / turn, tool.mesh().nodes.row(tool.mesh().triangles(patch.facets[0], 0))});
  }
  std::stable_sort(coarse.begin(), coarse.end(),
                   [](const auto& a, const auto& b) { return a.per_quarter < b.per_quarter; });
  std::vector<std::string> notes;
  for (std::size_t i = 0; i < std::min(coarse.size(), most_radii_named); ++i) {
    const Eigen::Vector3d& at = coarse[i].at;
    std::ostringstream text;
    text.precision(3);
    text << "the radius of " << coarse[i].radius << " mm at (" << at.x() << ", " << at.y() << ", " << at.z()
         << ") mm has " << coarse[i].per_quarter << " facets over 90 degrees; below " << enough_facets
         << " the faceting will print: export it finer, or as STEP";
    notes.push_back(text.str());
  }
  return notes;
}

}  // namespace halftool::mesh
