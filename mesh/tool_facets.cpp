#include "mesh/tool_facets.hpp"

#include <gmsh.h>

#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <sstream>
#include <unordered_map>

#include "mesh/curve_sizes.hpp"
#include "mesh/orientation.hpp"
#include "mesh/regular_faces.hpp"
#include "mesh/step_trial.hpp"

namespace halftool::mesh {
namespace {

constexpr double irregular_share = 0.7;  // mean over largest turn of irregular facets
constexpr double accepted_turn = 1.02;   // times the angle asked for
constexpr double measured_turn = 1.3;    // the same on a tool that is only measured: a few facets on spheres
constexpr double one_normal_limit = 0.02;  // normals of adjoining faces closer than this [rad] count as one

/// The outer faces of the solids, or all faces where there is no solid.
std::vector<int> outer_surfaces() {
  gmsh::vectorpair entities, solids;
  gmsh::model::getEntities(solids, 3);
  gmsh::model::getEntities(entities, 2);
  if (!solids.empty()) gmsh::model::getBoundary(solids, entities, true, false, false);
  std::vector<int> tags;
  for (const auto& [dimension, tag] : entities) tags.push_back(tag);
  std::sort(tags.begin(), tags.end());
  tags.erase(std::unique(tags.begin(), tags.end()), tags.end());
  return tags;
}

Eigen::AlignedBox3d box_of_face(int surface) {
  Eigen::AlignedBox3d box;
  gmsh::model::getBoundingBox(2, surface, box.min().x(), box.min().y(), box.min().z(), box.max().x(),
                              box.max().y(), box.max().z());
  return box;
}

std::string type_of(int dimension, int tag) {
  std::string type;
  gmsh::model::getType(dimension, tag, type);
  return type;
}

/// Unit normals of one CAD face at its nodes, by node number of Gmsh.
std::unordered_map<std::size_t, Eigen::Vector3d> normals_on(int surface) {
  std::vector<std::size_t> tags;
  std::vector<double> coordinates, parameters, components;
  gmsh::model::mesh::getNodes(tags, coordinates, parameters, 2, surface, true, true);
  gmsh::model::getNormal(surface, parameters, components);
  std::unordered_map<std::size_t, Eigen::Vector3d> normals;
  for (std::size_t i = 0; i < tags.size() && 3 * i + 2 < components.size(); ++i) {
    const Eigen::Vector3d n(components[3 * i], components[3 * i + 1], components[3 * i + 2]);
    if (std::abs(n.norm() - 1) < 0.01) normals.emplace(tags[i], n.normalized());
  }
  return normals;
}

Eigen::Vector3d flat_normal(const SurfaceMesh& mesh, int t) {
  const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0));
  const Eigen::Vector3d b = mesh.nodes.row(mesh.triangles(t, 1));
  const Eigen::Vector3d c = mesh.nodes.row(mesh.triangles(t, 2));
  return (b - a).cross(c - a).normalized();
}

/// CAD normals at the corners, turned to the facets' own side; the flat normal where the CAD face has none (a
/// pole).
Points cad_normals(const ExtractedMesh& extracted, const std::vector<int>& surfaces) {
  std::unordered_map<int, std::unordered_map<std::size_t, Eigen::Vector3d>> on_surface;
  for (const int surface : surfaces) on_surface[surface] = normals_on(surface);
  const SurfaceMesh& mesh = extracted.mesh;
  Points normals(3 * mesh.n_triangles(), 3);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const auto& known = on_surface[extracted.surface_of[static_cast<std::size_t>(t)]];
    const Eigen::Vector3d flat = flat_normal(mesh, t);
    for (int i = 0; i < 3; ++i) {
      const auto entry = known.find(extracted.node_tag[static_cast<std::size_t>(mesh.triangles(t, i))]);
      Eigen::Vector3d n = entry == known.end() ? flat : entry->second;
      if (n.dot(flat) < 0) n = -n;
      normals.row(3 * t + i) = n;
    }
  }
  return normals;
}

/// Makes the normals at a node one where they nearly are, so that tangent faces join smoothly.
void unify_normals(const SurfaceMesh& mesh, Points& normals) {
  std::vector<std::vector<int>> corners_at(static_cast<std::size_t>(mesh.n_nodes()));
  for (int c = 0; c < 3 * mesh.n_triangles(); ++c) {
    corners_at[static_cast<std::size_t>(mesh.triangles.data()[c])].push_back(c);
  }
  for (const auto& corners : corners_at) {
    std::vector<Eigen::Vector3d> first, sum;
    std::vector<std::size_t> group_of;
    for (const int c : corners) {
      const Eigen::Vector3d n = normals.row(c);
      std::size_t group = 0;
      while (group < first.size() && (first[group] - n).norm() > one_normal_limit) ++group;
      if (group == first.size()) {
        first.push_back(n);
        sum.emplace_back(Eigen::Vector3d::Zero());
      }
      sum[group] += n;
      group_of.push_back(group);
    }
    for (std::size_t k = 0; k < corners.size(); ++k) normals.row(corners[k]) = sum[group_of[k]].normalized();
  }
}

double diagonal_of_model() {
  double x0, y0, z0, x1, y1, z1;
  gmsh::model::getBoundingBox(-1, -1, x0, y0, z0, x1, y1, z1);
  return Eigen::Vector3d(x1 - x0, y1 - y0, z1 - z0).norm();
}

/// No facet has to be smaller [mm]: 0.02 mm, where radii of 0.3 mm begin to be facetted more coarsely, and of
/// small tools a share. Tips of cones would ask for facets without end.
double least_size(double diagonal) {
  return std::max(2e-5 * diagonal, std::min(2e-4 * diagonal, 0.02));
}

/// Largest turn of the normal across those facets that may be made smaller yet [rad].
double mendable_turn(const ToolFacets& facets, double least) {
  constexpr double most_of_least = 3;  // longest edge of a facet that has the least size
  double chord = 0;
  for (int t = 0; t < facets.mesh.n_triangles(); ++t) {
    double longest = 0, own = 0;
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3;
      longest = std::max(longest, (facets.mesh.nodes.row(facets.mesh.triangles(t, i)) -
                                   facets.mesh.nodes.row(facets.mesh.triangles(t, j)))
                                      .norm());
      own =
          std::max(own, (facets.corner_normals.row(3 * t + i) - facets.corner_normals.row(3 * t + j)).norm());
    }
    if (longest > most_of_least * least) chord = std::max(chord, own);
  }
  return 2 * std::asin(std::min(1.0, chord / 2));
}

void set_sizes(double angle, double diagonal) {
  gmsh::option::setNumber("Mesh.CharacteristicLengthMax", diagonal / 8);
  gmsh::option::setNumber("Mesh.CharacteristicLengthMin", least_size(diagonal));
  gmsh::option::setNumber("Mesh.CharacteristicLengthExtendFromBoundary", 1);
  gmsh::option::setNumber("Mesh.CharacteristicLengthFromCurvature", 1);
  gmsh::option::setNumber("Mesh.MinimumElementsPerTwoPi",
                          std::ceil(2 * std::numbers::pi / (irregular_share * angle)));
}

/// Lets facets of planes that lean by less than a wall grow at once from the border inward.
void enlarge_planes(const std::vector<int>& surfaces) {
  constexpr double least_upright = 0.6;  // of the normal; walls, below 0.5, are looked at facet by facet
  for (const int surface : surfaces) {
    if (type_of(2, surface) != "Plane") continue;
    std::vector<double> low, high, normal;
    gmsh::model::getParametrizationBounds(2, surface, low, high);
    gmsh::model::getNormal(surface, {low.at(0), low.at(1)}, normal);
    if (std::abs(normal.at(2)) > least_upright) gmsh::model::mesh::setSizeFromBoundary(2, surface, 0);
  }
}

/// Meshes the model, and says of a failure where the faces lie that are left without facets.
void mesh_faces(const GmshSession& session, const std::vector<int>& surfaces, const CurveSizes& sizes) {
  try {
    session.generate_surface_mesh([&](int dimension, int tag, double x, double y, double z) {
      return sizes.at(dimension, tag, {x, y, z});
    });
  } catch (const MeshError& error) {
    std::ostringstream text;
    text << error.what();
    session.attempt("looking for the face", [&] {
      for (const int surface : surfaces) {
        std::vector<std::size_t> elements, nodes;
        gmsh::model::mesh::getElementsByType(2, elements, nodes, surface);
        if (!elements.empty()) continue;
        const Eigen::AlignedBox3d box = box_of_face(surface);
        const Eigen::IOFormat commas(4, Eigen::DontAlignCols, ", ", ", ", "", "", "(", ")");
        text << ", on the face from " << box.min().format(commas) << " to " << box.max().format(commas)
             << " mm";
        break;
      }
    });
    text << "; " << step_mend;
    throw MeshError(text.str());
  }
}

/// Leaves patches that are laid afterwards to nobody, and of a tool that is only measured the places of nodes
/// as they come: smoothing took most of the mesher's time on planes with long borders.
void leave_out(const GmshSession& session, const std::vector<LaidPatch>& patches, bool for_measuring) {
  session.run("preparing the tool's mesh", [&] {
    if (for_measuring) gmsh::option::setNumber("Mesh.Smoothing", 0);
    gmsh::option::setNumber("Mesh.MeshOnlyVisible", 1);
    for (const LaidPatch& laid : patches) gmsh::model::setVisibility({{2, laid.patch.surface}}, 0);
  });
}

}  // namespace

double largest_turn(const Points& normals) {
  double chord = 0;
  for (Eigen::Index t = 0; t < normals.rows() / 3; ++t) {
    for (int i = 0; i < 3; ++i) {
      chord = std::max(chord, (normals.row(3 * t + i) - normals.row(3 * t + (i + 1) % 3)).norm());
    }
  }
  return 2 * std::asin(std::min(1.0, chord / 2));
}

ToolFacets triangulate_model(const GmshSession& session, double facet_angle, bool for_measuring) {
  ToolFacets facets;
  const double accepted = facet_angle * (for_measuring ? measured_turn : accepted_turn);
  double angle = facet_angle;
  for (int round = 0; round < 3; ++round) {
    std::vector<int> surfaces;
    double diagonal = 0;
    session.run("preparing the tool's mesh", [&] {
      gmsh::model::mesh::clear();
      surfaces = outer_surfaces();
      diagonal = diagonal_of_model();
      set_sizes(angle, diagonal);
      if (for_measuring) enlarge_planes(surfaces);
    });
    const CurveSizes curve_sizes(session, surfaces, irregular_share * angle);
    const auto patches = set_regular_faces(session, surfaces, angle, curve_sizes, for_measuring);
    if (for_measuring || !patches.empty()) leave_out(session, patches, for_measuring);
    mesh_faces(session, surfaces, curve_sizes);
    session.run("laying the tool's facets", [&] {
      for (const auto& [patch, n_rows] : patches) lay_patch(patch, n_rows);
    });
    ExtractedMesh extracted = extract_triangles(session, surfaces);
    facets.n_open_pieces = orient_outward(extracted.mesh);
    session.run("reading the tool's normals",
                [&] { facets.corner_normals = cad_normals(extracted, surfaces); });
    unify_normals(extracted.mesh, facets.corner_normals);
    facets.mesh = std::move(extracted.mesh);
    facets.surface_of = std::move(extracted.surface_of);
    facets.largest_turn = largest_turn(facets.corner_normals);
    const double turn = mendable_turn(facets, least_size(diagonal));
    if (turn <= accepted) break;
    angle *= 0.97 * std::max(0.6, facet_angle / turn);
  }
  return facets;
}

double measure_geometric_error(const GmshSession& session, const ToolSurface& tool,
                               const std::vector<int>& surface_of) {
  double largest = 0;
  session.attempt("measuring the tool's facets", [&] {
    std::map<int, std::vector<double>> centroids;
    const Eigen::Vector3d middle = Eigen::Vector3d::Constant(1.0 / 3);
    for (std::size_t t = 0; t < surface_of.size(); ++t) {
      const Eigen::Vector3d x = tool.facets()[t].point(middle);
      auto& list = centroids[surface_of[t]];
      list.insert(list.end(), {x.x(), x.y(), x.z()});
    }
    for (const auto& [surface, points] : centroids) {
      if (type_of(2, surface) == "Plane") continue;
      std::vector<double> closest, parameters;
      gmsh::model::getClosestPoint(2, surface, points, closest, parameters);
      for (std::size_t i = 0; i + 2 < closest.size(); i += 3) {
        const Eigen::Vector3d gap(points[i] - closest[i], points[i + 1] - closest[i + 1],
                                  points[i + 2] - closest[i + 2]);
        largest = std::max(largest, gap.norm());
      }
    }
  });
  return largest;
}

}  // namespace halftool::mesh
