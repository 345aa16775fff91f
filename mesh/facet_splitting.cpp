#include "mesh/facet_splitting.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "mesh/curved_facet.hpp"
#include "mesh/side_lines.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
constexpr double largest_aspect = 4;
constexpr double straight_turn =
    std::numbers::pi / 180;         // [rad] from side to side of a line, or of the normal
constexpr double flat_turn = 1e-3;  // [rad] of the normal within a facet
constexpr int most_rounds = 8;
constexpr int most_growth = 60;  // of the number of facets

/// One round of halving.
class Round {
 public:
  Round(SurfaceMesh& mesh, Points& normals)
      : mesh_(mesh), normals_(normals), edges_(build_edges(mesh)), lines_(mesh, normals, edges_) {
    middle_of_.assign(static_cast<std::size_t>(edges_.n_edges()), -1);
  }

  /// @return whether a facet was split
  bool run() {
    for (int t = 0; t < mesh_.n_triangles(); ++t) mark(t);
    if (marked_.empty()) return false;
    while (pass_on()) {
    }
    add_middles();
    std::vector<bool> done(static_cast<std::size_t>(mesh_.n_triangles()), false);
    for (int e = 0; e < edges_.n_edges(); ++e) {
      if (lines_.is_diagonal(e) && !is_marked(e) && halve_pair(e)) {
        done[static_cast<std::size_t>(edges_.triangles(e, 0))] = true;
        done[static_cast<std::size_t>(edges_.triangles(e, 1))] = true;
      }
    }
    for (int t = 0; t < edges_.of_triangle.rows(); ++t) {
      if (!done[static_cast<std::size_t>(t)]) split(t);
    }
    store();
    return true;
  }

 private:
  [[nodiscard]] bool is_flat(int t) const {
    double turn = 0;
    for (int i = 0; i < 3; ++i) {
      turn = std::max(turn, (normals_.row(3 * t + i) - normals_.row(3 * t + (i + 1) % 3)).norm());
    }
    return turn < flat_turn;
  }

  [[nodiscard]] bool is_marked(int e) const { return middle_of_[static_cast<std::size_t>(e)] >= 0; }
  void mark_side(int e) {
    middle_of_[static_cast<std::size_t>(e)] = mesh_.n_nodes() + static_cast<int>(marked_.size());
    marked_.push_back(e);
  }

  /// The sides of the four-sided facet of a diagonal, the first opposite the second, the third the fourth.
  [[nodiscard]] std::array<int, 4> sides_around(int e) const {
    const int t = edges_.triangles(e, 0), u = edges_.triangles(e, 1);
    int i = 0, k = 0;  // corners that the diagonal faces
    for (int j = 0; j < 3; ++j) {
      if (edges_.of_triangle(t, j) == e) i = j;
      if (edges_.of_triangle(u, j) == e) k = j;
    }
    return {edges_.of_triangle(t, (i + 2) % 3), edges_.of_triangle(u, (k + 2) % 3),
            edges_.of_triangle(t, (i + 1) % 3), edges_.of_triangle(u, (k + 1) % 3)};
  }

  /// Marks the side opposite to a marked one in four-sided facets, so that rows of them stay rows.
  bool pass_on() {
    bool changed = false;
    for (int e = 0; e < edges_.n_edges(); ++e) {
      if (!lines_.is_diagonal(e) || is_marked(e)) continue;
      if (is_flat(edges_.triangles(e, 0)) || is_flat(edges_.triangles(e, 1))) continue;
      const auto sides = sides_around(e);
      for (const std::size_t k : {0U, 2U}) {
        if (is_marked(sides[k]) == is_marked(sides[k + 1])) continue;
        mark_side(is_marked(sides[k]) ? sides[k + 1] : sides[k]);
        changed = true;
      }
    }
    return changed;
  }

  /// Marks the side of a sliver that is to be halved.
  void mark(int t) {
    if (is_flat(t)) return;
    int side = lines_.longest(t);
    const double longest = lines_.length(side);
    const Vector3d a = mesh_.nodes.row(mesh_.triangles(t, 0)), b = mesh_.nodes.row(mesh_.triangles(t, 1)),
                   c = mesh_.nodes.row(mesh_.triangles(t, 2));
    if (longest * longest <= largest_aspect * (b - a).cross(c - a).norm()) return;
    const int diagonal = lines_.least_turning(t);
    if (diagonal >= 0 && lines_.is_diagonal(diagonal)) {
      double second = 0;
      for (int i = 0; i < 3; ++i) {
        const int e = edges_.of_triangle(t, i);
        if (e == diagonal || lines_.length(e) <= second) continue;
        side = e;
        second = lines_.length(e);
      }
    }
    if (!is_marked(side) && lines_.line_through(side, t).turn() > straight_turn) mark_side(side);
  }

  void add_middles() {
    Points nodes(mesh_.nodes.rows() + static_cast<Eigen::Index>(marked_.size()), 3);
    nodes.topRows(mesh_.nodes.rows()) = mesh_.nodes;
    middle_normals_.resize(marked_.size());
    for (std::size_t k = 0; k < marked_.size(); ++k) {
      const int e = marked_[k];
      const int t = edges_.triangles(e, 0), u = edges_.triangles(e, 1);
      const SideLine line = lines_.line_through(e, t);
      const Sample one = line.middle();
      const Sample other = u < 0 ? one : lines_.line_through(e, u).middle();
      Vector3d place = one.place;
      if (line.is_single()) {
        const Vector3d a = line.points[1]->place, b = line.points[2]->place;
        place =
            0.25 * (a + b) + 0.5 * smooth_edge_control(a, line.points[1]->normal, b, line.points[2]->normal);
      }
      nodes.row(mesh_.nodes.rows() + static_cast<Eigen::Index>(k)) = place;
      middle_normals_[k] = {one.normal, other.normal};
    }
    mesh_.nodes = std::move(nodes);
  }

  /// Middle of the side of a facet that faces corner i, or -1.
  [[nodiscard]] int middle(int t, int i) const {
    return middle_of_[static_cast<std::size_t>(edges_.of_triangle(t, i))];
  }
  [[nodiscard]] Vector3d middle_normal(int t, int i) const {
    const int e = edges_.of_triangle(t, i);
    const auto k = static_cast<std::size_t>(middle(t, i)) - first_middle();
    return middle_normals_[k][edges_.triangles(e, 0) == t ? 0 : 1];
  }
  [[nodiscard]] std::size_t first_middle() const {
    return static_cast<std::size_t>(mesh_.nodes.rows()) - marked_.size();
  }

  /// A corner of a new facet.
  using Corner = std::pair<int, Vector3d>;
  [[nodiscard]] Corner old_corner(int t, int i) const {
    return {mesh_.triangles(t, i % 3), normals_.row(3 * t + i % 3)};
  }
  [[nodiscard]] Corner new_corner(int t, int i) const { return {middle(t, i % 3), middle_normal(t, i % 3)}; }
  void add(const Corner& a, const Corner& b, const Corner& c) { result_.push_back({a, b, c}); }

  /// Halves the four-sided facet of a diagonal across, if exactly two opposite sides of it are marked.
  bool halve_pair(int e) {
    const int t = edges_.triangles(e, 0), u = edges_.triangles(e, 1);
    int i = 0, k = 0;  // corners that the diagonal faces
    for (int j = 0; j < 3; ++j) {
      if (edges_.of_triangle(t, j) == e) i = j;
      if (edges_.of_triangle(u, j) == e) k = j;
    }
    // t = (p, q, r) with p facing the diagonal q r; u = (s, r, q). Sides of t: p q faces r, r p faces q.
    const bool pq = middle(t, (i + 2) % 3) >= 0, rp = middle(t, (i + 1) % 3) >= 0;
    const bool sr = middle(u, (k + 2) % 3) >= 0, qs = middle(u, (k + 1) % 3) >= 0;
    const Corner p = old_corner(t, i), q = old_corner(t, i + 1), r = old_corner(t, i + 2),
                 s = old_corner(u, k);
    if (pq && sr && !rp && !qs) {
      const Corner m = new_corner(t, i + 2), n = new_corner(u, k + 2);  // of p q and of s r
      add(p, m, r);
      add(m, n, r);
      add(m, q, n);
      add(q, s, n);
      return true;
    }
    if (rp && qs && !pq && !sr) {
      const Corner m = new_corner(t, i + 1), n = new_corner(u, k + 1);  // of r p and of q s
      add(p, q, m);
      add(q, n, m);
      add(m, n, r);
      add(n, s, r);
      return true;
    }
    return false;
  }

  /// Splits a facet by whatever sides of it are marked.
  void split(int t) {
    std::array<bool, 3> has{};
    for (int i = 0; i < 3; ++i) has[static_cast<std::size_t>(i)] = middle(t, i) >= 0;
    const auto n = std::count(has.begin(), has.end(), true);
    if (n == 0) return add(old_corner(t, 0), old_corner(t, 1), old_corner(t, 2));
    if (n == 3) {
      for (int i = 0; i < 3; ++i) add(old_corner(t, i), new_corner(t, i + 2), new_corner(t, i + 1));
      return add(new_corner(t, 0), new_corner(t, 1), new_corner(t, 2));
    }
    const bool wanted = n == 1;  // corner that faces the only marked side, or the only side that is not
    const int i = static_cast<int>(std::find(has.begin(), has.end(), wanted) - has.begin());
    if (n == 1) {
      add(old_corner(t, i), old_corner(t, i + 1), new_corner(t, i));
      return add(old_corner(t, i), new_corner(t, i), old_corner(t, i + 2));
    }
    add(old_corner(t, i), new_corner(t, i + 2), new_corner(t, i + 1));
    add(new_corner(t, i + 2), old_corner(t, i + 1), new_corner(t, i + 1));
    add(new_corner(t, i + 1), old_corner(t, i + 1), old_corner(t, i + 2));
  }

  void store() {
    const auto n = static_cast<Eigen::Index>(result_.size());
    Points normals(3 * n, 3);
    Triangles triangles(n, 3);
    for (Eigen::Index t = 0; t < n; ++t) {
      for (int i = 0; i < 3; ++i) {
        const auto& [number, normal] = result_[static_cast<std::size_t>(t)][static_cast<std::size_t>(i)];
        triangles(t, i) = number;
        normals.row(3 * t + i) = normal;
      }
    }
    mesh_.triangles = std::move(triangles);
    normals_ = std::move(normals);
  }

  SurfaceMesh& mesh_;
  Points& normals_;
  EdgeTable edges_;
  SideLines lines_;
  std::vector<int> middle_of_;  ///< (n_edges) new node, or -1
  std::vector<int> marked_;
  std::vector<std::array<Vector3d, 2>> middle_normals_;  ///< on both sides of each marked edge
  std::vector<std::array<Corner, 3>> result_;
};

}  // namespace

int split_curved_slivers(SurfaceMesh& mesh, Points& corner_normals) {
  const int before = mesh.n_triangles();
  for (int round = 0; round < most_rounds; ++round) {
    if (mesh.n_triangles() > most_growth * before || !Round(mesh, corner_normals).run()) break;
  }
  return mesh.n_triangles() - before;
}

}  // namespace halftool::mesh
