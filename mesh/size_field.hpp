#pragma once
#include <string>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/closest_triangle.hpp"
#include "mesh/outline.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// The wanted edge length over the flat blank, as the smallest demand of several causes.
///
/// A tool radius r asks for (r + t/2) (pi/2) / elements_per_bend where convex (the mid-surface runs outside
/// the tool radius), for max(r - t/2, t/2) (pi/2) / elements_per_bend where concave, never below a quarter of
/// the thickness t. It asks so in a band around the radius seen along the press axis: the part of the
/// developed arc that does not lie over the radius, (r + t/2) pi/2 - r, plus two thicknesses for draw-in and
/// lift-off, plus half the height of the highest tool point above the radius, since sheet from farther away
/// reaches a deep radius. Curves of the outline and of holes ask for 15 degrees an edge, not below half the
/// thickness. Away from its cause every demand grows by `growth` per length up to `coarsest`.
class SizeField {
 public:
  SizeField(const BlankMeshSpec& spec, double thickness, const PlacedOutline& outline,
            const ToolSurface& tool);

  /// Lets the sheet meet the radii of another tool as well, one of a later step.
  void add_tool(const BlankMeshSpec& spec, double thickness, const ToolSurface& tool);

  /// Wanted edge length [mm] at a point of the flat blank in the tool's frame.
  [[nodiscard]] double at(const Eigen::Vector2d& x) const;
  /// The causes that set the size at one or more of the given points, one line each.
  [[nodiscard]] std::vector<std::string> reasons(const SurfaceMesh& mesh) const;

 private:
  struct RadiusDemand {
    double size = 0;    ///< [mm]
    double band = 0;    ///< [mm]
    TriangleTree plan;  ///< the radius seen along the press axis
    std::string reason;
  };
  struct CurveDemand {
    double size = 0;  ///< [mm]
    Loop pieces;
    std::string reason;
  };
  void add_radii(const BlankMeshSpec& spec, double thickness, const ToolSurface& tool);
  void add_curves(double thickness, const PlacedOutline& outline);
  [[nodiscard]] double demand(const RadiusDemand& cause, const Eigen::Vector2d& x) const;
  [[nodiscard]] double demand(const CurveDemand& cause, const Eigen::Vector2d& x) const;

  double coarsest_ = 0;
  double growth_ = 0;
  std::string base_reason_;
  std::vector<RadiusDemand> radii_;
  std::vector<CurveDemand> curves_;
};

}  // namespace halftool::mesh
