#include "mesh/sheet_pieces.hpp"

#include <algorithm>
#include <sstream>
#include <vector>

namespace halftool::mesh {
namespace {

/// Number of the piece of each triangle; pieces hang together over edges.
std::vector<int> piece_of_triangles(const Blank& blank, int& n_pieces) {
  std::vector<int> piece(static_cast<std::size_t>(blank.mesh.n_triangles()), -1);
  n_pieces = 0;
  std::vector<int> open;
  for (int start = 0; start < blank.mesh.n_triangles(); ++start) {
    if (piece[start] >= 0) continue;
    open.push_back(start);
    piece[start] = n_pieces;
    while (!open.empty()) {
      const int t = open.back();
      open.pop_back();
      for (int i = 0; i < 3; ++i) {
        for (const int other : blank.edges.triangles.row(blank.edges.of_triangle(t, i))) {
          if (other < 0 || piece[other] >= 0) continue;
          piece[other] = n_pieces;
          open.push_back(other);
        }
      }
    }
    ++n_pieces;
  }
  return piece;
}

}  // namespace

void refuse_several_pieces(const Blank& blank, const Points& places) {
  int n_pieces = 0;
  const std::vector<int> piece = piece_of_triangles(blank, n_pieces);
  if (n_pieces == 1) return;
  std::vector<int> first(static_cast<std::size_t>(n_pieces), -1), count(first.size(), 0);
  for (int t = 0; t < blank.mesh.n_triangles(); ++t) {
    if (first[piece[t]] < 0) first[piece[t]] = t;
    ++count[piece[t]];
  }
  const auto largest = std::max_element(count.begin(), count.end()) - count.begin();
  std::ostringstream text;
  text << "the trim line leaves " << n_pieces << " pieces; beside the largest there is one at";
  for (int p = 0, told = 0; p < n_pieces && told < 5; ++p) {
    if (p == largest) continue;
    text << (told++ > 0 ? "," : "") << " (" << places.row(blank.mesh.triangles(first[p], 0)) << ")";
  }
  text << " mm; draw the line so that one connected piece is left";
  throw MeshError(text.str());
}

}  // namespace halftool::mesh
