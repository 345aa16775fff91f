#include "mesh/edge_uses.hpp"

#include <algorithm>

namespace halftool::mesh {

EdgeUses find_edge_uses(const SurfaceMesh& mesh) {
  EdgeUses uses;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (int i = 0; i < 3; ++i) {
      uses[std::minmax(mesh.triangles(t, i), mesh.triangles(t, (i + 1) % 3))].push_back(t);
    }
  }
  return uses;
}

std::vector<int> find_pieces(const SurfaceMesh& mesh, const EdgeUses& uses) {
  std::vector<int> piece_of(static_cast<std::size_t>(mesh.n_triangles()), -1);
  int n_pieces = 0;
  for (int first = 0; first < mesh.n_triangles(); ++first) {
    if (piece_of[static_cast<std::size_t>(first)] >= 0) continue;
    std::vector<int> waiting{first};
    piece_of[static_cast<std::size_t>(first)] = n_pieces;
    while (!waiting.empty()) {
      const int t = waiting.back();
      waiting.pop_back();
      for (int i = 0; i < 3; ++i) {
        for (const int other : uses.at(std::minmax(mesh.triangles(t, i), mesh.triangles(t, (i + 1) % 3)))) {
          int& piece = piece_of[static_cast<std::size_t>(other)];
          if (piece >= 0) continue;
          piece = n_pieces;
          waiting.push_back(other);
        }
      }
    }
    ++n_pieces;
  }
  return piece_of;
}

}  // namespace halftool::mesh
