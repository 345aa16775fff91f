#pragma once
#include <Eigen/Core>
#include <stdexcept>
#include <string>

namespace halftool::mesh {

/// A geometry that cannot be meshed or read. The message names the place and the mend.
struct MeshError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// (n, 3) coordinates [mm], one point a row.
using Points = Eigen::Matrix<double, Eigen::Dynamic, 3, Eigen::RowMajor>;
/// (n, 3) node numbers, counter-clockwise seen from the side that the normal points to.
using Triangles = Eigen::Matrix<int, Eigen::Dynamic, 3, Eigen::RowMajor>;

/// A triangulated surface; every node belongs to at least one triangle.
struct SurfaceMesh {
  Points nodes;         ///< (n_nodes, 3) [mm]
  Triangles triangles;  ///< (n_triangles, 3)

  template <class Archive>
  void serialize(Archive& archive) {
    archive(nodes, triangles);
  }

  [[nodiscard]] int n_nodes() const { return static_cast<int>(nodes.rows()); }
  [[nodiscard]] int n_triangles() const { return static_cast<int>(triangles.rows()); }
};

/// The edges of a surface mesh. Each edge is stored once, running from nodes(e, 0) to nodes(e, 1).
struct EdgeTable {
  Eigen::Matrix<int, Eigen::Dynamic, 2, Eigen::RowMajor> nodes;  ///< (n_edges, 2) tail, head
  Eigen::Matrix<int, Eigen::Dynamic, 3, Eigen::RowMajor>
      of_triangle;  ///< (n_triangles, 3) edge facing local node i
  Eigen::Matrix<int, Eigen::Dynamic, 3, Eigen::RowMajor>
      sign;  ///< (n_triangles, 3) +1: the triangle walks it tail to head
  Eigen::Matrix<int, Eigen::Dynamic, 2, Eigen::RowMajor>
      triangles;  ///< (n_edges, 2) neighbours; -1 where there is none

  template <class Archive>
  void serialize(Archive& archive) {
    archive(nodes, of_triangle, sign, triangles);
  }

  [[nodiscard]] int n_edges() const { return static_cast<int>(nodes.rows()); }
  [[nodiscard]] bool is_boundary(int edge) const { return triangles(edge, 1) < 0; }
};

/// Numbers the edges of a mesh in order of first appearance (deterministic).
/// @throws MeshError  an edge with more than two triangles, or two neighbours of opposite orientation
EdgeTable build_edges(const SurfaceMesh& mesh);

/// Smallest interior angle of each triangle, (n_triangles) [rad].
Eigen::VectorXd smallest_angles(const SurfaceMesh& mesh);

}  // namespace halftool::mesh
