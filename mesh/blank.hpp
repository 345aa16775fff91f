#pragma once
#include <Eigen/Core>
#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "mesh/flatness.hpp"
#include "mesh/outline_piece.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

class ToolSurface;

struct RectangleOutline {
  double length = 0;         ///< along the blank's own x [mm]
  double width = 0;          ///< along the blank's own y [mm]
  double corner_radius = 0;  ///< [mm]
};
struct CircleOutline {
  double radius = 0;  ///< [mm]
};
/// Corners in order around the blank; each corner may be rounded.
struct PolygonOutline {
  std::vector<Eigen::Vector2d> corners;  ///< [mm]
  std::vector<double> corner_radii;      ///< [mm], empty: sharp corners
};
/// Closed curves from a drawing, in its own frame: see chain_curves.
struct DrawnOutline {
  Loop outer;
  std::vector<Loop> holes;
  std::vector<std::string> facts;   ///< what was read, one line each
  std::vector<std::string> doubts;  ///< what the user should look at: "finding; what to do"
};
using Outline = std::variant<RectangleOutline, CircleOutline, PolygonOutline, DrawnOutline>;

struct Hole {
  Eigen::Vector2d centre;  ///< in the blank's own frame [mm]
  double radius = 0;       ///< [mm]
};

/// A locating pin: a round pin of the tool that stands in a hole of the blank.
struct Pin {
  Eigen::Vector2d centre{0, 0};  ///< [mm]
  double radius = 0;             ///< [mm]

  template <class Archive>
  void serialize(Archive& archive) {
    archive(centre, radius);
  }
};

/// The blank as it is cut and laid down, flat but for its unevenness. Its own frame has the origin at the
/// outline's centre (rectangle, circle) or where the corners or the drawing put it.
struct BlankSpec {
  Outline outline;
  std::vector<Hole> holes;
  std::vector<Pin> pins = {};                       ///< in the blank's own frame, as it is laid down
  Eigen::Vector2d place = Eigen::Vector2d::Zero();  ///< origin of the blank's frame in the tool's frame [mm]
  double turn = 0;                                  ///< rotation of the blank about the press axis [rad]
  double thickness = 0;                             ///< [mm]
  double rolling_angle = 0;                         ///< rolling direction from the blank's own +x [rad]
  bool symmetric_x = false;                         ///< only x >= 0 is computed
  bool symmetric_y = false;                         ///< only y >= 0 is computed
  bool rim_held = false;                            ///< the outer outline is clamped (bulge test)
  Flatness flatness = {};
};

/// How fine the blank is meshed. Sizes come from the tool: see size_field.
struct BlankMeshSpec {
  double elements_per_bend = 10;  ///< elements over a 90 degree bend of the radius that the sheet meets
  double coarsest = 0;            ///< largest edge length [mm]; 0: a twelfth of the blank's smaller extent
  double uniform = 0;             ///< one edge length everywhere [mm]; 0: graded from the tool
  double growth = 0.25;           ///< growth of the edge length per length away from the tool's radii
};

enum class EdgeKind { interior, outer, hole, symmetry_x, symmetry_y, trimmed };

/// A locating pin and the rim that may bear on it.
struct PinnedRim {
  Pin pin;                 ///< in the tool's frame
  double clearance = 0;    ///< between pin and rim where they are nearest, before pressing [mm]
  std::vector<int> edges;  ///< of the rim

  template <class Archive>
  void serialize(Archive& archive) {
    archive(pin, clearance, edges);
  }
};

/// The meshed blank: mid-surface, flat but for its unevenness, lying on the tool with its normal +z, the pad
/// on the +z side. Free of stress as it lies.
struct Blank {
  SurfaceMesh mesh;
  EdgeTable edges;
  std::vector<EdgeKind> edge_kind;  ///< (n_edges)
  /// (n_edges) true strain along trimmed edges since the flat blank when they were cut, 0 of all others;
  /// empty: nothing was trimmed
  std::vector<double> strain_when_cut = {};
  std::vector<PinnedRim> pins;              ///< those whose hole lies in the computed part
  double thickness = 0;                     ///< [mm]
  Eigen::Vector2d rolling_direction{1, 0};  ///< unit vector in the plane of the flat blank
  bool rim_held = false;
  std::vector<std::string> size_reasons;  ///< why the mesh is as fine as it is, one line a cause

  template <class Archive>
  void serialize(Archive& archive) {
    archive(mesh, edges, edge_kind, strain_when_cut, pins, thickness, rolling_direction, rim_held,
            size_reasons);
  }
};

/// Meshes the blank (irregular triangles, Gmsh) and lays it on the tool: mid-surface half a thickness above
/// the highest tool point under it.
/// @throws MeshError  outline that crosses itself, hole outside or overlapping, pins that do not fit, blank
/// off the tool, mesher failure, a triangle that cannot be computed
/// @param later  tools of later steps, whose radii the mesh must serve too
Blank make_blank(const BlankSpec& spec, const BlankMeshSpec& mesh_spec, const ToolSurface& tool,
                 const std::vector<const ToolSurface*>& later = {});

}  // namespace halftool::mesh
