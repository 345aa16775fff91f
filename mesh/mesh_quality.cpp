#include "mesh/mesh_quality.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr int max_passes = 8;
constexpr double worthwhile = 1e-3;  // gain of angle [rad] for which a change is made

/// Smallest angle of a plane triangle; negative if it is turned over.
double smallest_angle(const Vector2d& a, const Vector2d& b, const Vector2d& c) {
  const std::array<Vector2d, 3> x{a, b, c};
  double smallest = std::numbers::pi;
  for (std::size_t i = 0; i < 3; ++i) {
    const Vector2d u = x[(i + 1) % 3] - x[i];
    const Vector2d v = x[(i + 2) % 3] - x[i];
    smallest = std::min(smallest, std::atan2(u.x() * v.y() - u.y() * v.x(), u.dot(v)));
  }
  return smallest;
}

class Improver {
 public:
  Improver(SurfaceMesh& mesh, const std::vector<bool>& fixed, double wanted)
      : mesh_(mesh), fixed_(fixed), wanted_(wanted) {}

  void run() {
    for (int pass = 0; pass < max_passes; ++pass) {
      const bool swapped = swap_diagonals();
      const bool moved = move_nodes();
      if (!swapped && !moved) break;
    }
  }

 private:
  [[nodiscard]] Vector2d at(int node) const { return mesh_.nodes.row(node).head<2>(); }
  [[nodiscard]] double angle_of(int t) const {
    return smallest_angle(at(mesh_.triangles(t, 0)), at(mesh_.triangles(t, 1)), at(mesh_.triangles(t, 2)));
  }

  bool swap_diagonals() {
    const EdgeTable edges = build_edges(mesh_);
    std::vector<bool> touched(static_cast<std::size_t>(mesh_.n_triangles()), false);
    bool any = false;
    for (int e = 0; e < edges.n_edges(); ++e) {
      if (edges.is_boundary(e)) continue;
      const int t = edges.triangles(e, 0);
      const int u = edges.triangles(e, 1);
      if (touched[static_cast<std::size_t>(t)] || touched[static_cast<std::size_t>(u)]) continue;
      if (!swap_if_better(edges, e, t, u)) continue;
      touched[static_cast<std::size_t>(t)] = touched[static_cast<std::size_t>(u)] = true;
      any = true;
    }
    return any;
  }

  bool swap_if_better(const EdgeTable& edges, int e, int t, int u) {
    const double before = std::min(angle_of(t), angle_of(u));
    if (before >= wanted_) return false;
    const int a = edges.nodes(e, 0);
    const int b = edges.nodes(e, 1);
    const int c = opposite(t, a, b);  // on the left of a -> b
    const int d = opposite(u, a, b);
    const double after = std::min(smallest_angle(at(c), at(a), at(d)), smallest_angle(at(d), at(b), at(c)));
    if (after < before + worthwhile) return false;
    mesh_.triangles.row(t) << c, a, d;
    mesh_.triangles.row(u) << d, b, c;
    return true;
  }

  [[nodiscard]] int opposite(int t, int a, int b) const {
    for (int i = 0; i < 3; ++i) {
      if (mesh_.triangles(t, i) != a && mesh_.triangles(t, i) != b) return mesh_.triangles(t, i);
    }
    return -1;
  }

  bool move_nodes() {
    std::vector<std::vector<int>> star(static_cast<std::size_t>(mesh_.n_nodes()));
    for (int t = 0; t < mesh_.n_triangles(); ++t) {
      for (int i = 0; i < 3; ++i) star[static_cast<std::size_t>(mesh_.triangles(t, i))].push_back(t);
    }
    bool any = false;
    for (int t = 0; t < mesh_.n_triangles(); ++t) {
      if (angle_of(t) >= wanted_) continue;
      for (int i = 0; i < 3; ++i) {
        const int node = mesh_.triangles(t, i);
        if (!fixed_[static_cast<std::size_t>(node)])
          any = move(node, star[static_cast<std::size_t>(node)]) || any;
      }
    }
    return any;
  }

  [[nodiscard]] double worst_of(const std::vector<int>& triangles) const {
    double worst = std::numbers::pi;
    for (const int t : triangles) worst = std::min(worst, angle_of(t));
    return worst;
  }

  /// Pattern search for the place of a node that makes the worst triangle around it best.
  bool move(int node, const std::vector<int>& triangles) {
    const Vector2d start = at(node);
    Vector2d best_place = start;
    double best = worst_of(triangles);
    const double before = best;
    double size = 0;
    for (const int t : triangles) {
      for (int i = 0; i < 3; ++i) size = std::max(size, (at(mesh_.triangles(t, i)) - start).norm());
    }
    for (double step = 0.2 * size; step > 0.01 * size; step *= 0.5) {
      const Vector2d centre = best_place;
      for (int k = 0; k < 8; ++k) {
        const double direction = k * std::numbers::pi / 4;
        const Vector2d place = centre + step * Vector2d(std::cos(direction), std::sin(direction));
        mesh_.nodes.row(node).head<2>() = place;
        const double worst = worst_of(triangles);
        if (worst > best) {
          best = worst;
          best_place = place;
        }
      }
    }
    const bool better = best > before + worthwhile;
    mesh_.nodes.row(node).head<2>() = better ? best_place : start;
    return better;
  }

  SurfaceMesh& mesh_;
  const std::vector<bool>& fixed_;
  double wanted_;
};

}  // namespace

void improve_angles(SurfaceMesh& mesh, const std::vector<bool>& fixed, double wanted) {
  Improver(mesh, fixed, wanted).run();
}

}  // namespace halftool::mesh
