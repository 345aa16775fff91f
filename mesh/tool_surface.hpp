#pragma once
#include <Eigen/Core>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "mesh/curved_facet.hpp"
#include "mesh/placement.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

struct FacetNet;
class TriangleTree;

/// Block with two straight working edges along y: the sheet folds over the edge radii at x = +-length/2. Top
/// at z = height, tray floor at z = 0. The edge radius turns through wall_angle and its axis lies at x =
/// +-(length/2 - edge_radius). So length is the distance between the two vertical walls if wall_angle is 90
/// degrees; the largest width, met at the height of the radius' axis, if the walls lean in below it (> 90
/// degrees, over-bent block); and if they lean out (< 90 degrees) the width that vertical walls would have.
struct StraightBlock {
  double length = 0;       ///< along x [mm], > 2 edge_radius
  double width = 0;        ///< along y [mm]; give more than the blank's, the ends are sharp
  double height = 0;       ///< [mm]
  double edge_radius = 0;  ///< [mm]
  /// Angle through which the sheet folds, from the top plane to the wall [rad], 5 to 150 degrees.
  double wall_angle = 1.5707963267948966;
};
/// Half cylinder lying along y, its crown at x = 0, z = height; vertical walls below its axis down to z = 0.
struct CylinderBlock {
  double radius = 0;  ///< [mm]
  double width = 0;   ///< along y [mm]
  double height = 0;  ///< of the crown above the tray floor, >= radius [mm]
};
/// Flat die with a round opening about the z axis; entry radius on its lip. Top at z = 0, floor at z =
/// -depth.
struct RoundCavity {
  double opening_radius = 0;  ///< of the wall below the lip [mm]
  double entry_radius = 0;    ///< [mm]
  double depth = 0;           ///< [mm]
  double outer_radius = 0;    ///< of the flat rim [mm]
};
/// Any shape from a STEP file.
struct StepShape {
  std::string path;
  Placement placement = {};
};
/// Any shape from an STL file, whose facets are the facets of the tool.
struct StlShape {
  std::string path;
  double unit = 1;  ///< millimetres in one unit of the file
  Placement placement = {};
};
using ToolShape = std::variant<StraightBlock, CylinderBlock, RoundCavity, StepShape, StlShape>;

struct ToolSpec {
  ToolShape shape;
  std::vector<ToolShape> inserts = {};  ///< what stands with it, one body with the shape
  /// Largest turn of the normal across one facet (6 degrees) [rad]; not for STL.
  double facet_angle = 0.10471975511965977;
  bool tray_floor = true;  ///< lay a flat tray floor around the tool at its lowest point
  /// For looking at the tool, not for pressing on it: planes that are no walls get few large facets, in which
  /// they lie as well, all faces that have rows and columns regular ones (the others turn by up to 1.3 times
  /// the angle), and the facets' distance from the CAD faces is not measured.
  bool for_measuring = false;
};

/// Where a point in space stands against the tool.
struct ToolPoint {
  double gap = 0;                   ///< signed distance [mm], > 0 outside the tool
  Eigen::Vector3d normal;           ///< unit, out of the tool, continuous across facets of a smooth face
  Eigen::Matrix3d normal_gradient;  ///< d normal / d x, symmetric [1/mm]
  int facet = -1;                   ///< facet that the point stands over
};

/// The rigid tool half: triangles with CAD normals at their corners, evaluated as a smooth curved surface
/// (quadratic facets that interpolate positions and normals; Nagata 2005) with a bounding-volume tree.
/// Thread-safe for queries.
class ToolSurface {
 public:
  /// @param mesh            closed or open triangulation, outward orientation
  /// @param corner_normals  (3 n_triangles, 3) outward unit normals, row 3 t + i for corner i of triangle t.
  ///                        Equal on both sides of a smooth edge, different on both sides of a sharp one.
  ToolSurface(SurfaceMesh mesh, Points corner_normals);
  ~ToolSurface();
  ToolSurface(ToolSurface&&) noexcept;
  ToolSurface& operator=(ToolSurface&&) noexcept;

  /// @param x       point [mm]
  /// @param within  search radius [mm]
  /// @param likely  facet that is near x, where one is known; speeds up, see TriangleTree::closest
  /// @return the place on the tool nearest to x, or nothing if farther than `within`, or if x lies beyond an
  /// open
  ///         border of the surface
  [[nodiscard]] std::optional<ToolPoint> nearest(const Eigen::Vector3d& x, double within,
                                                 int likely = -1) const;

  [[nodiscard]] const SurfaceMesh& mesh() const;
  [[nodiscard]] const Points& corner_normals() const;
  [[nodiscard]] const FacetNet& net() const;       ///< the facets and how they adjoin
  [[nodiscard]] const TriangleTree& tree() const;  ///< of the flat facets
  /// The curved facets, one for each triangle of mesh().
  [[nodiscard]] const std::vector<CurvedFacet>& facets() const;

  /// Largest distance between the curved facets and the CAD surface that the maker of the tool measured, not
  /// a number where it did not [mm].
  /// For a tool from STL, of whose surface only the corners are known: from the file's own flat facets.
  double geometric_error = 0;
  std::vector<std::string> notes;   ///< remarks of the maker: faces, facets, error, repairs
  std::vector<std::string> doubts;  ///< those of the notes that a result on this tool has to carry

 private:
  struct Data;
  std::unique_ptr<Data> data_;
};

/// Builds the tool half from its shape with Gmsh and OpenCASCADE; normals come from the CAD faces. The facets
/// of an STL file are taken as they are, repaired where that is safe; their normals are estimated.
/// @throws MeshError  unreadable file, impossible measures (named), mesher failure, a surface that is no tool
ToolSurface make_tool(const ToolSpec& spec);

/// A bend radius on the tool that the sheet can meet, as a patch of facets.
struct RadiusPatch {
  double radius = 0;  ///< smallest principal radius of curvature over the patch [mm]
  bool convex = true;
  std::vector<int> facets;
};

/// Groups the curved facets of the tool by radius and convexity; flat facets are left out.
std::vector<RadiusPatch> find_radii(const ToolSurface& tool);
/// @param edges  of its mesh
std::vector<RadiusPatch> find_radii(const ToolSurface& tool, const EdgeTable& edges);

}  // namespace halftool::mesh
