#pragma once
#include <optional>
#include <vector>

#include "mesh/closest_triangle.hpp"
#include "mesh/facet_net.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// A place on a wall of the tool: a facet steeper than 60 degrees.
struct WallPoint {
  Eigen::Vector3d place;   ///< [mm]
  Eigen::Vector3d normal;  ///< horizontal unit vector out of the tool
};

/// The tool half made ready for looking along straight lines: flat facets, sharp edges, rays.
class ToolView {
 public:
  /// @param tool  outlives the view
  explicit ToolView(const ToolSurface& tool);

  [[nodiscard]] const ToolSurface& tool() const { return *tool_; }
  [[nodiscard]] const FacetNet& net() const { return tool_->net(); }
  [[nodiscard]] const EdgeTable& edges() const { return edges_; }
  /// See find_radii.
  [[nodiscard]] const std::vector<RadiusPatch>& radii() const { return radii_; }
  [[nodiscard]] int n_facets() const { return tool_->mesh().n_triangles(); }

  [[nodiscard]] double lowest() const { return lowest_; }    ///< level of the tray floor [mm]
  [[nodiscard]] double highest() const { return highest_; }  ///< [mm]
  [[nodiscard]] double extent() const { return extent_; }    ///< largest, tray floor left out [mm]
  /// Spacing of the places that are looked at: a hundredth of the extent [mm].
  [[nodiscard]] double spacing() const { return extent_ / 100; }

  [[nodiscard]] Eigen::Vector3d normal(int facet) const;  ///< of the flat facet, unit
  /// Of the curved facet at its middle, unit: free of what flat facets lean on a curved face.
  [[nodiscard]] Eigen::Vector3d smooth_normal(int facet) const;
  [[nodiscard]] Eigen::Vector3d middle(int facet) const;  ///< [mm]
  [[nodiscard]] double area(int facet) const;             ///< [mm2]
  /// Facets at the lowest level that face up or down: tray floor, underside.
  [[nodiscard]] bool is_at_bottom(int facet) const;
  [[nodiscard]] bool is_at_bottom(const Eigen::Vector3d& x) const;
  /// Whether facets at the lowest level face up: a tray floor, laid or drawn.
  [[nodiscard]] bool has_floor() const;
  /// Whether the surface has a border above its lowest level: no solid lies behind the facets then.
  [[nodiscard]] bool is_open() const;

  /// Places spread over a flat facet no farther apart than spacing(); on a larger one close to its corners,
  /// too.
  [[nodiscard]] std::vector<Eigen::Vector3d> places_on(int facet) const;
  /// Places spread over all walls; of those closer together than half of spacing() only some (a tenth of it
  /// at the corners of large facets).
  [[nodiscard]] std::vector<WallPoint> wall_points() const;

  /// First facet in a direction; what lies within 2e-6 of the extent and a micrometre does not count.
  [[nodiscard]] std::optional<RayHit> look(const Eigen::Vector3d& from,
                                           const Eigen::Vector3d& direction) const;
  [[nodiscard]] bool sees_sky(const Eigen::Vector3d& from) const;
  /// Height of the first facet below a point; the lowest level where there is none [mm].
  [[nodiscard]] double height_below(const Eigen::Vector3d& from) const;
  /// Height of the tool seen from above [mm].
  [[nodiscard]] double height_at(const Eigen::Vector2d& plan) const;

 private:
  const ToolSurface* tool_;
  EdgeTable edges_;
  std::vector<RadiusPatch> radii_;
  double lowest_ = 0, highest_ = 0, extent_ = 0;
};

/// Turn of the normal across a sharp edge [rad], > 0 convex, < 0 concave; 0 on a border.
double turn_of(const SharpEdge& edge, const ToolView& view);

}  // namespace halftool::mesh
