#pragma once
#include <Eigen/Core>
#include <array>
#include <optional>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// A corner of a facet: its place [mm] and its unit normal there.
struct Sample {
  Eigen::Vector3d place, normal;
};

/// A side of a facet, from points[1] to points[2], with the corners before and after it on the line of sides
/// that it is part of, where there are such.
struct SideLine {
  std::array<std::optional<Sample>, 4> points;

  /// Half-way along the side on the polynomial of least degree through all points, by their distances.
  [[nodiscard]] Sample middle() const;
  /// Whether the side stands alone.
  [[nodiscard]] bool is_single() const { return !points[0] && !points[3]; }
  /// Largest turn [rad] of the normal along the side, and of the line from it to the next sides.
  [[nodiscard]] double turn() const;
};

/// The sides of a faceted surface as lines that run on from facet to facet.
class SideLines {
 public:
  /// The arguments must outlive the object. @param normals  (3 n_triangles, 3) at the corners
  SideLines(const SurfaceMesh& mesh, const Points& normals, const EdgeTable& edges);

  [[nodiscard]] double length(int edge) const;
  [[nodiscard]] int longest(int triangle) const;
  /// Of the two longer sides of a facet the one across which the flat facets turn less than half as much as
  /// across the other, or -1: four-sided facets are planar, or nearly so, and their halves hardly turn.
  [[nodiscard]] int least_turning(int triangle) const;
  /// Whether an edge is the least turning side of both its facets, and so the diagonal of a four-sided one.
  [[nodiscard]] bool is_diagonal(int edge) const { return diagonal_[static_cast<std::size_t>(edge)]; }
  /// The line through an edge on the smooth face that a triangle at it belongs to. Diagonals are no part of
  /// lines.
  [[nodiscard]] SideLine line_through(int edge, int triangle) const;

 private:
  [[nodiscard]] Eigen::Vector3d node(int number) const { return mesh_.nodes.row(number); }
  [[nodiscard]] Eigen::Vector3d normal_at(int triangle, int node) const;
  [[nodiscard]] double turn_across(int edge) const;
  /// The corner after the end `from` of an edge on its line, on the same smooth face as `normal`.
  [[nodiscard]] std::optional<Sample> next(int edge, int from, const Eigen::Vector3d& normal) const;

  const SurfaceMesh& mesh_;
  const Points& normals_;
  const EdgeTable& edges_;
  Points flat_;
  std::vector<bool> diagonal_;
  std::vector<std::vector<int>> edges_at_;
};

}  // namespace halftool::mesh
