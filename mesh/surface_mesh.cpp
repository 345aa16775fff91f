#include "mesh/surface_mesh.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <sstream>
#include <unordered_map>

namespace halftool::mesh {
namespace {

std::uint64_t edge_key(int a, int b) {
  const auto [low, high] = std::minmax(a, b);
  return (static_cast<std::uint64_t>(low) << 32) |
         static_cast<std::uint64_t>(static_cast<std::uint32_t>(high));
}

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
  std::unordered_map<std::uint64_t, int> number_of;
  number_of.reserve(2 * static_cast<std::size_t>(n_triangles));
  for (int t = 0; t < n_triangles; ++t) {
    for (int i = 0; i < 3; ++i) {
      const int tail = mesh.triangles(t, (i + 1) % 3);
      const int head = mesh.triangles(t, (i + 2) % 3);
      const auto [place, is_new] =
          number_of.try_emplace(edge_key(tail, head), static_cast<int>(number_of.size()));
      const int edge = place->second;
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
  const auto n_edges = static_cast<Eigen::Index>(number_of.size());
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
