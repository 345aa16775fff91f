#include "mesh/orientation.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <sstream>
#include <tuple>
#include <utility>
#include <vector>

namespace halftool::mesh {
namespace {

struct Neighbour {
  int triangle;
  bool same_way;  ///< both walk the common edge in the same direction, so one must be turned over
};

using Neighbours = std::vector<std::vector<Neighbour>>;

/// Neighbours of each triangle, whatever their orientation.
Neighbours find_neighbours(const SurfaceMesh& mesh) {
  struct Use {
    std::pair<int, int> nodes;
    int triangle;
    bool forward;
  };
  std::vector<Use> uses;
  uses.reserve(3 * static_cast<std::size_t>(mesh.n_triangles()));
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (int i = 0; i < 3; ++i) {
      const int a = mesh.triangles(t, i);
      const int b = mesh.triangles(t, (i + 1) % 3);
      uses.push_back({std::minmax(a, b), t, a < b});
    }
  }
  std::sort(uses.begin(), uses.end(), [](const Use& a, const Use& b) {
    return std::tie(a.nodes, a.triangle) < std::tie(b.nodes, b.triangle);
  });
  Neighbours neighbours(static_cast<std::size_t>(mesh.n_triangles()));
  for (std::size_t k = 0, next = 0; k < uses.size(); k = next) {
    const auto nodes = uses[k].nodes;
    while (next < uses.size() && uses[next].nodes == nodes) ++next;
    if (next - k > 2) {
      std::ostringstream text;
      text << "the tool's surface branches at the edge from (" << mesh.nodes.row(nodes.first) << ") to ("
           << mesh.nodes.row(nodes.second) << "): more than two faces meet there; export it as one solid";
      throw MeshError(text.str());
    }
    if (next - k < 2) continue;
    const bool same_way = uses[k].forward == uses[k + 1].forward;
    neighbours[static_cast<std::size_t>(uses[k].triangle)].push_back({uses[k + 1].triangle, same_way});
    neighbours[static_cast<std::size_t>(uses[k + 1].triangle)].push_back({uses[k].triangle, same_way});
  }
  return neighbours;
}

/// The triangles connected to `first`, with `turned` set so that they agree with it.
std::vector<int> collect_piece(const Neighbours& neighbours, int first, std::vector<int>& turned) {
  std::vector<int> piece{first};
  turned[static_cast<std::size_t>(first)] = 0;
  for (std::size_t k = 0; k < piece.size(); ++k) {
    const int state = turned[static_cast<std::size_t>(piece[k])];
    for (const auto& next : neighbours[static_cast<std::size_t>(piece[k])]) {
      const int wanted = next.same_way ? 1 - state : state;
      int& other = turned[static_cast<std::size_t>(next.triangle)];
      if (other < 0) {
        other = wanted;
        piece.push_back(next.triangle);
      } else if (other != wanted) {
        throw MeshError("the tool's surface has only one side (a twisted band); export it as one solid");
      }
    }
  }
  return piece;
}

}  // namespace

int orient_outward(SurfaceMesh& mesh) {
  const Neighbours neighbours = find_neighbours(mesh);
  std::vector<int> turned(static_cast<std::size_t>(mesh.n_triangles()), -1);
  int n_open = 0;
  for (int first = 0; first < mesh.n_triangles(); ++first) {
    if (turned[static_cast<std::size_t>(first)] >= 0) continue;
    const std::vector<int> piece = collect_piece(neighbours, first, turned);
    double volume = 0;
    double upward = 0;
    bool closed = true;
    const Eigen::Vector3d origin = mesh.nodes.row(mesh.triangles(first, 0));
    for (const int t : piece) {
      if (turned[static_cast<std::size_t>(t)] == 1) std::swap(mesh.triangles(t, 1), mesh.triangles(t, 2));
      const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)).transpose() - origin;
      const Eigen::Vector3d b = mesh.nodes.row(mesh.triangles(t, 1)).transpose() - origin;
      const Eigen::Vector3d c = mesh.nodes.row(mesh.triangles(t, 2)).transpose() - origin;
      volume += a.dot(b.cross(c));
      upward += (b - a).cross(c - a).z();
      closed = closed && neighbours[static_cast<std::size_t>(t)].size() == 3;
    }
    if (!closed) ++n_open;
    if ((closed ? volume : upward) < 0) {
      for (const int t : piece) std::swap(mesh.triangles(t, 1), mesh.triangles(t, 2));
    }
  }
  return n_open;
}

}  // namespace halftool::mesh
