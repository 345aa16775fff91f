#include "mesh/surface_mesh.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <sstream>
#include <vector>

namespace halftool::mesh {
namespace {

/// Numbers edges in the order of their first use.
class EdgeNumbers {
 public:
  EdgeNumbers(int n_nodes, int n_triangles) : first_at_(static_cast<std::size_t>(n_nodes), -1) {
    known_.reserve(2 * static_cast<std::size_t>(n_triangles));
  }
  [[nodiscard]] int count() const { return static_cast<int>(known_.size()); }

  /// Number of the edge between two nodes; count() as it was before where the edge is new.
  int of(int a, int b) {
    const auto [low, high] = std::minmax(a, b);
    int& first = first_at_[static_cast<std::size_t>(low)];
    for (int e = first; e >= 0; e = known_[static_cast<std::size_t>(e)].next)
      if (known_[static_cast<std::size_t>(e)].high == high) return e;
    known_.push_back({high, first});
    return first = count() - 1;
  }

 private:
  struct Known {
    int high;  ///< node of the larger number
    int next;  ///< edge that has the lower node in common; -1: none
  };
  std::vector<int> first_at_;  ///< by lower node
  std::vector<Known> known_;
};

std::string describe(const SurfaceMesh& mesh, int a, int b) {
  std::ostringstream text;
  text << "the edge from (" << mesh.nodes.row(a) << ") to (" << mesh.nodes.row(b) << ")";
  return text.str();
}

/// Gives `edge` its second triangle.
void join(const SurfaceMesh& mesh, EdgeTable& edges, int edge, int triangle, int tail) {
  const int a = edges.nodes(edge, 0);
  const int b = edges.nodes(edge, 1);
  if (edges.triangles(edge, 1) >= 0) {
    throw MeshError(describe(mesh, a, b) + " has more than two triangles; the surface must not branch");
  }
  if (tail == a) {
    throw MeshError("the two triangles at " + describe(mesh, a, b) +
                    " point to opposite sides; turn one over");
  }
  edges.triangles(edge, 1) = triangle;
}

void check_node_numbers(const SurfaceMesh& mesh) {
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const auto corners = mesh.triangles.row(t);
    const bool known = corners.minCoeff() >= 0 && corners.maxCoeff() < mesh.n_nodes();
    if (!known || corners(0) == corners(1) || corners(1) == corners(2) || corners(2) == corners(0)) {
      std::ostringstream text;
      text << "triangle " << t << " has the nodes " << corners << ", of " << mesh.n_nodes()
           << "; three different known nodes are needed";
      throw MeshError(text.str());
    }
  }
}

}  // namespace

EdgeTable build_edges(const SurfaceMesh& mesh) {
  check_node_numbers(mesh);
  const int n_triangles = mesh.n_triangles();
  EdgeTable edges;
  edges.of_triangle.resize(n_triangles, 3);
  edges.sign.resize(n_triangles, 3);
  edges.nodes.resize(3 * mesh.triangles.rows(), 2);
  edges.triangles.resize(3 * mesh.triangles.rows(), 2);
  EdgeNumbers numbers(mesh.n_nodes(), n_triangles);
  for (int t = 0; t < n_triangles; ++t) {
    for (int i = 0; i < 3; ++i) {
      const int tail = mesh.triangles(t, (i + 1) % 3);
      const int head = mesh.triangles(t, (i + 2) % 3);
      const int n_before = numbers.count();
      const int edge = numbers.of(tail, head);
      const bool is_new = edge == n_before;
      if (is_new) {
        edges.nodes.row(edge) << tail, head;
        edges.triangles.row(edge) << t, -1;
      } else {
        join(mesh, edges, edge, t, tail);
      }
      edges.of_triangle(t, i) = edge;
      edges.sign(t, i) = is_new ? 1 : -1;
    }
  }
  const auto n_edges = static_cast<Eigen::Index>(numbers.count());
  edges.nodes.conservativeResize(n_edges, 2);
  edges.triangles.conservativeResize(n_edges, 2);
  return edges;
}

Eigen::VectorXd smallest_angles(const SurfaceMesh& mesh) {
  Eigen::VectorXd angles(mesh.n_triangles());
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    double smallest = 4;
    for (int i = 0; i < 3; ++i) {
      const Eigen::Vector3d x = mesh.nodes.row(mesh.triangles(t, i));
      const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, (i + 1) % 3)).transpose() - x;
      const Eigen::Vector3d b = mesh.nodes.row(mesh.triangles(t, (i + 2) % 3)).transpose() - x;
      smallest = std::min(smallest, std::atan2(a.cross(b).norm(), a.dot(b)));
    }
    angles(t) = smallest;
  }
  return angles;
}

}  // namespace halftool::mesh
