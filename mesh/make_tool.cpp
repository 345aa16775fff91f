#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <set>
#include <sstream>

#include "mesh/facet_repair.hpp"
#include "mesh/holes.hpp"
#include "mesh/open_seams.hpp"
#include "mesh/stl_tool.hpp"
#include "mesh/tool_facets.hpp"
#include "mesh/tool_shapes.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {
namespace {

constexpr double floor_margin = 2;  // free tray on each side, in largest extents of the tool

struct Box {
  Eigen::Vector3d low, high;
  [[nodiscard]] double largest() const { return (high - low).maxCoeff(); }
};

Box box_of(const SurfaceMesh& mesh) {
  return {mesh.nodes.colwise().minCoeff(), mesh.nodes.colwise().maxCoeff()};
}

/// Keeps some facets, and only the nodes that they use.
void keep_facets(ToolFacets& facets, const std::vector<int>& kept) {
  std::vector<int> number(static_cast<std::size_t>(facets.mesh.n_nodes()), -1);
  ToolFacets result;
  result.mesh.nodes.resize(facets.mesh.n_nodes(), 3);
  result.mesh.triangles.resize(static_cast<Eigen::Index>(kept.size()), 3);
  result.corner_normals.resize(static_cast<Eigen::Index>(3 * kept.size()), 3);
  int n_nodes = 0;
  for (std::size_t k = 0; k < kept.size(); ++k) {
    const auto row = static_cast<Eigen::Index>(k);
    for (int i = 0; i < 3; ++i) {
      const int node = facets.mesh.triangles(kept[k], i);
      int& place = number[static_cast<std::size_t>(node)];
      if (place < 0) {
        place = n_nodes++;
        result.mesh.nodes.row(place) = facets.mesh.nodes.row(node);
      }
      result.mesh.triangles(row, i) = place;
      result.corner_normals.row(3 * row + i) = facets.corner_normals.row(3 * kept[k] + i);
    }
    result.surface_of.push_back(facets.surface_of[static_cast<std::size_t>(kept[k])]);
  }
  result.mesh.nodes.conservativeResize(n_nodes, 3);
  result.largest_turn = facets.largest_turn;
  result.n_open_pieces = facets.n_open_pieces;
  result.geometric_error = facets.geometric_error;
  facets = std::move(result);
}

/// Takes away what stands on the tray: facets at the lowest point that look down.
void drop_underside(ToolFacets& facets, const Box& box) {
  const double level = box.low.z() + 1e-6 * box.largest();  // single-precision corners of an STL file
  std::vector<int> kept;
  for (int t = 0; t < facets.mesh.n_triangles(); ++t) {
    bool under = facets.corner_normals(3 * static_cast<Eigen::Index>(t), 2) < -0.999;
    for (int i = 0; i < 3; ++i) under = under && facets.mesh.nodes(facets.mesh.triangles(t, i), 2) <= level;
    if (!under) kept.push_back(t);
  }
  keep_facets(facets, kept);
}

void add_tray_floor(ToolFacets& facets, const Box& box) {
  const double margin = floor_margin * box.largest();
  const Eigen::Index n = facets.mesh.nodes.rows();
  const Eigen::Index m = facets.mesh.triangles.rows();
  facets.mesh.nodes.conservativeResize(n + 4, 3);
  facets.mesh.triangles.conservativeResize(m + 2, 3);
  facets.corner_normals.conservativeResize(3 * (m + 2), 3);
  facets.mesh.nodes.bottomRows<4>() << box.low.x() - margin, box.low.y() - margin, box.low.z(),  //
      box.high.x() + margin, box.low.y() - margin, box.low.z(),                                  //
      box.high.x() + margin, box.high.y() + margin, box.low.z(),                                 //
      box.low.x() - margin, box.high.y() + margin, box.low.z();
  const int first = static_cast<int>(n);
  facets.mesh.triangles.bottomRows<2>() << first, first + 1, first + 2, first, first + 2, first + 3;
  facets.corner_normals.bottomRows<6>().rowwise() = Eigen::RowVector3d::UnitZ();
}

std::string counted(const std::string& what, int n) {
  std::ostringstream text;
  text << n << ' ' << what << (n == 1 ? "" : "s");
  return text.str();
}

std::string named(const ToolSpec& spec) {
  std::string name = describe(spec.shape);
  for (const ToolShape& insert : spec.inserts) name += " with " + describe(insert);
  return name;
}

void write_notes(ToolSurface& tool, const ToolSpec& spec, const ToolFacets& facets) {
  const std::set<int> faces(facets.surface_of.begin(), facets.surface_of.end());
  std::ostringstream text;
  const bool has_faces = !std::holds_alternative<StlShape>(spec.shape);
  text << named(spec) << ": ";
  if (has_faces) text << counted("face", static_cast<int>(faces.size())) << ", ";
  text << counted("facet", tool.mesh().n_triangles());
  tool.notes.push_back(text.str());
  text.str("");
  text.precision(3);
  const double degree = std::numbers::pi / 180;
  text << "the normal turns by at most " << facets.largest_turn / degree << " degrees across a facet";
  if (!spec.for_measuring)
    text << "; curved facets " << (has_faces ? "lie within " : "stand off the file's by at most ")
         << tool.geometric_error << " mm"
         << (has_faces ? " of the CAD faces" : ", their true place is known to a share of that only");
  tool.notes.push_back(text.str());
  if (has_faces && facets.largest_turn > 1.5 * spec.facet_angle) {
    tool.notes.push_back(
        "a very small radius was left coarser than asked; check that the tool has no stray edges");
  }
}

/// What a result on this tool has to carry.
void add_doubts(ToolSurface& tool, std::vector<std::string> doubts, const ToolFacets& facets) {
  if (facets.n_open_pieces > 0)
    doubts.push_back("the tool's surface is open (" + counted("piece", facets.n_open_pieces) +
                     "); it was taken to face upward, and nothing is touched beyond its border");
  tool.notes.insert(tool.notes.end(), doubts.begin(), doubts.end());
  tool.doubts = std::move(doubts);
}

/// Stands the tool on its tray.
ToolSurface finish(ToolFacets& facets, bool tray_floor) {
  const Box box = box_of(facets.mesh);
  if (tray_floor) {
    drop_underside(facets, box);
    add_tray_floor(facets, box);
  }
  return {facets.mesh, facets.corner_normals};
}

ToolSurface make_from_stl(const ToolSpec& spec, const StlShape& shape) {
  std::vector<std::string> repairs;
  ToolFacets facets = facets_of_stl(shape, spec.tray_floor, repairs);
  ToolSurface tool = finish(facets, spec.tray_floor);
  tool.geometric_error = facets.geometric_error;
  write_notes(tool, spec, facets);
  for (std::string& note : note_coarse_radii(tool)) repairs.push_back(std::move(note));
  add_doubts(tool, std::move(repairs), facets);
  return tool;
}

bool is_from_step(const ToolSpec& spec) {
  const auto is_step = [](const ToolShape& shape) { return std::holds_alternative<StepShape>(shape); };
  return is_step(spec.shape) || std::any_of(spec.inserts.begin(), spec.inserts.end(), is_step);
}

/// The same judgement as of an open surface from STL; several open pieces must not be neighbours besides.
void refuse_open(const SurfaceMesh& mesh, bool tray_floor) {
  refuse_holes(mesh, tray_floor);
  const EdgeUses uses = find_edge_uses(mesh);
  if (const auto seam = find_open_seam(mesh, uses, find_border(uses)))
    throw MeshError("the tool's surface has " + describe(*seam, extent_of(mesh)));
}

ToolFacets triangulate(const GmshSession& session, const ToolSpec& spec) {
  try {
    ToolFacets facets = triangulate_model(session, spec.facet_angle, spec.for_measuring);
    if (facets.n_open_pieces > 0) refuse_open(facets.mesh, spec.tray_floor);
    return facets;
  } catch (const MeshError& error) {
    if (!is_from_step(spec)) throw;
    throw MeshError(named(spec) + ": " + error.what());
  }
}

}  // namespace

ToolSurface make_tool(const ToolSpec& spec) {
  if (const auto* stl = std::get_if<StlShape>(&spec.shape)) return make_from_stl(spec, *stl);
  if (!(spec.facet_angle >= 0.005 && spec.facet_angle <= 0.8)) {
    throw MeshError("the facet angle of the tool must lie between 0.3 and 45 degrees");
  }
  const GmshSession session;
  std::vector<std::string> doubts = build_shape(session, spec.shape, spec.inserts);
  ToolFacets facets = triangulate(session, spec);
  ToolSurface tool = finish(facets, spec.tray_floor);
  tool.geometric_error = spec.for_measuring ? std::numeric_limits<double>::quiet_NaN()
                                            : measure_geometric_error(session, tool, facets.surface_of);
  write_notes(tool, spec, facets);
  add_doubts(tool, std::move(doubts), facets);
  return tool;
}

}  // namespace halftool::mesh
