#pragma once
#include <array>
#include <vector>

#include "mesh/blank.hpp"

namespace halftool::mesh {

/// A trim line: closed curves, projected along an axis of the tool's frame onto the formed sheet.
struct TrimSpec {
  DrawnOutline line;        ///< in (y, z), (x, z) or (x, y), see `along` [mm]
  bool keep_inside = true;  ///< else what lies inside is cut out
  int along = 2;            ///< axis that it is projected along: 0 x, 1 y, 2 z
};

/// Where a node of a trimmed sheet lies on the sheet that it was cut from.
struct NodeOrigin {
  std::array<int, 3> nodes{};                        ///< of that sheet
  Eigen::Vector3d share = Eigen::Vector3d::UnitX();  ///< their weights

  /// Whether it is the first of them, where it was.
  [[nodiscard]] bool unmoved() const { return share.x() == 1; }
  /// The point among points of that sheet, (n_nodes, 3).
  [[nodiscard]] Eigen::RowVector3d among(const Points& points) const {
    return share.x() * points.row(nodes[0]) + share.y() * points.row(nodes[1]) +
           share.z() * points.row(nodes[2]);
  }
};

/// The edge that an edge of a trimmed sheet lies on.
struct EdgeOrigin {
  int edge = -1;       ///< of the sheet before; -1: none, the edge is new
  bool whole = false;  ///< all of it, neither shortened nor moved
};

/// What is left of a sheet, with where it comes from. Triangles that the line crosses are split along it, all
/// others are as they were.
struct TrimmedBlank {
  Blank blank;
  std::vector<NodeOrigin> node_origin;  ///< (n_nodes)
  std::vector<int> parent;              ///< (n_triangles) triangle of the sheet before
  std::vector<EdgeOrigin> edge_origin;  ///< (n_edges)
  double kept_share = 0;                ///< of the sheet's area
  /// Places where the line turns back within one edge of the mesh, and corners that were cut off in an
  /// element
  int details_lost = 0;
};

/// Cuts a sheet along a line. The node nearest to a corner of the line is moved there, nodes nearer to the
/// line than a quarter of an edge are moved onto it along that edge, so that no slivers arise; nodes of the
/// border only along the border.
/// @param formed  (n_nodes, 3) where the sheet's nodes lie when the line is laid on it [mm]
/// @throws MeshError  a line that does not meet the sheet, one that leaves nothing or several pieces, a
/// triangle that cannot be computed
TrimmedBlank trim_blank(const Blank& blank, const Points& formed, const TrimSpec& spec);

}  // namespace halftool::mesh
