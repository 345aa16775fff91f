#include "mesh/facet_corners.hpp"

#include <Eigen/Geometry>
#include <Eigen/IterativeLinearSolvers>
#include <Eigen/Sparse>
#include <algorithm>
#include <set>
#include <utility>
#include <vector>

#include "mesh/facet_repair.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
constexpr int rounds = 2;             // of the correction, whose equations are linear but for unit length
constexpr int most_iterations = 400;  // of the least squares
constexpr double least_lean = 0.2;    // cosine to the facet's own normal

/// A normal that all corners of one node share which hang together over smooth edges.
struct SharedNormal {
  Vector3d normal = Vector3d::Zero();
  bool of_flat = false;
  int unknown = -1;
  double shortest = 1e300;  ///< side at the node [mm]
  double turn = 0;          ///< largest to a facet there [rad]
};

class CornerEstimate {
 public:
  CornerEstimate(const SurfaceMesh& mesh, const EdgeTable& edges, const FacetRegions& regions,
                 double corner_error)
      : mesh_(mesh),
        edges_(edges),
        regions_(regions),
        flat_(facet_normals(mesh)),
        rounding_(std::max(weld_share * extent_of(mesh), corner_error)) {
    share_normals();
    for (int c = 0; c < 3 * mesh_.n_triangles(); ++c) add_facet(c);
    for (auto& shared : shared_) shared.normal.normalize();
    for (int c = 0; c < 3 * mesh_.n_triangles(); ++c) weigh(c);
  }

  Points find() {
    for (int round = 0; round < rounds; ++round) correct();
    Points result(3 * mesh_.n_triangles(), 3);
    for (int c = 0; c < 3 * mesh_.n_triangles(); ++c) {
      const Vector3d own = flat_.row(c / 3);
      const Vector3d& normal =
          shared_[static_cast<std::size_t>(shared_of_[static_cast<std::size_t>(c)])].normal;
      result.row(c) = normal.dot(own) > least_lean ? normal : own;
    }
    return result;
  }

 private:
  [[nodiscard]] int corner_at(int t, int node) const {
    for (int i = 0; i < 3; ++i) {
      if (mesh_.triangles(t, i) == node) return 3 * t + i;
    }
    return -1;
  }

  int root(int c) {
    while (shared_of_[static_cast<std::size_t>(c)] != c) c = shared_of_[static_cast<std::size_t>(c)];
    return c;
  }

  /// Groups the corners: over smooth edges, but a flat with its own facets only where two flats meet.
  void share_normals() {
    const int n = 3 * mesh_.n_triangles();
    shared_of_.resize(static_cast<std::size_t>(n));
    for (int c = 0; c < n; ++c) shared_of_[static_cast<std::size_t>(c)] = c;
    for (int e = 0; e < edges_.n_edges(); ++e) {
      if (regions_.crease[static_cast<std::size_t>(e)]) continue;
      for (int k = 0; k < 2; ++k) {
        const int a = root(corner_at(edges_.triangles(e, 0), edges_.nodes(e, k)));
        const int b = root(corner_at(edges_.triangles(e, 1), edges_.nodes(e, k)));
        shared_of_[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
      }
    }
    std::vector<std::vector<int>> corners_of(static_cast<std::size_t>(n));
    for (int c = 0; c < n; ++c) corners_of[static_cast<std::size_t>(root(c))].push_back(c);
    for (const auto& corners : corners_of) {
      if (!corners.empty()) number_group(corners);
    }
  }

  [[nodiscard]] int flat_at(int c) const { return regions_.flat_of[static_cast<std::size_t>(c / 3)]; }

  void number_group(const std::vector<int>& corners) {
    std::set<int> flats;
    for (const int c : corners) flats.insert(flat_at(c));
    flats.erase(-1);
    const auto first = static_cast<int>(shared_.size());
    for (const int flat : flats)
      shared_.push_back({regions_.flat_normal[static_cast<std::size_t>(flat)], true});
    if (flats.empty()) {
      shared_.push_back({});
      shared_.back().unknown = 2 * n_unknown_++;
    }
    for (const int c : corners) {
      const Vector3d own = flat_at(c) < 0 ? Vector3d(flat_.row(c / 3))
                                          : regions_.flat_normal[static_cast<std::size_t>(flat_at(c))];
      const auto nearer = [&](const SharedNormal& a, const SharedNormal& b) {
        return a.normal.dot(own) < b.normal.dot(own);
      };
      const auto best = std::max_element(shared_.begin() + first, shared_.end(), nearer);
      shared_of_[static_cast<std::size_t>(c)] = static_cast<int>(best - shared_.begin());
    }
  }

  void add_facet(int c) {
    auto& shared = shared_[static_cast<std::size_t>(shared_of_[static_cast<std::size_t>(c)])];
    if (shared.of_flat) return;
    const int t = c / 3;
    const Vector3d x = mesh_.nodes.row(mesh_.triangles(t, c % 3));
    const Vector3d a = mesh_.nodes.row(mesh_.triangles(t, (c + 1) % 3)).transpose() - x;
    const Vector3d b = mesh_.nodes.row(mesh_.triangles(t, (c + 2) % 3)).transpose() - x;
    shared.normal += a.cross(b) / (a.squaredNorm() * b.squaredNorm());
  }

  void weigh(int c) {
    auto& shared = shared_[static_cast<std::size_t>(shared_of_[static_cast<std::size_t>(c)])];
    const Vector3d own = flat_.row(c / 3);
    shared.turn = std::max(shared.turn, (shared.normal - own).norm());
    const Vector3d x = mesh_.nodes.row(mesh_.triangles(c / 3, c % 3));
    for (int i = 1; i < 3; ++i) {
      const Vector3d end = mesh_.nodes.row(mesh_.triangles(c / 3, (c + i) % 3));
      shared.shortest = std::min(shared.shortest, (end - x).norm());
    }
  }

  /// How much of a correction is held back: what rounding or noise of the corners does to the direction of an
  /// edge, over what the first estimate may err by, the turn from the normal to the facets. Without it
  /// rounding adds up along rows of very fine facets.
  [[nodiscard]] double held_back(const SharedNormal& shared) const {
    return shared.turn > 0 ? std::min(1.0, rounding_ / (shared.shortest * shared.turn)) : 1;
  }

  /// Two directions square to a normal.
  static Eigen::Matrix<double, 3, 2> tangents(const Vector3d& normal) {
    Eigen::Matrix<double, 3, 2> result;
    result.col(0) = normal.unitOrthogonal();
    result.col(1) = normal.cross(result.col(0));
    return result;
  }

  void correct() {
    if (n_unknown_ == 0) return;
    std::vector<Eigen::Triplet<double>> entries;
    std::vector<double> wanted;
    for (int e = 0; e < edges_.n_edges(); ++e) {
      const Vector3d edge =
          (mesh_.nodes.row(edges_.nodes(e, 1)) - mesh_.nodes.row(edges_.nodes(e, 0))).normalized();
      std::pair<int, int> known{-1, -1};
      for (int side = 0; side < 2; ++side) {
        const int t = edges_.triangles(e, side);
        if (t < 0) continue;
        const std::pair ends{shared_of_[static_cast<std::size_t>(corner_at(t, edges_.nodes(e, 0)))],
                             shared_of_[static_cast<std::size_t>(corner_at(t, edges_.nodes(e, 1)))]};
        if (ends == known) continue;
        known = ends;
        double sum = 0;
        bool is_free = false;
        for (const int end : {ends.first, ends.second}) {
          const auto& shared = shared_[static_cast<std::size_t>(end)];
          sum += shared.normal.dot(edge);
          if (shared.unknown < 0) continue;
          is_free = true;
          const Eigen::RowVector2d slope = edge.transpose() * tangents(shared.normal);
          for (int k = 0; k < 2; ++k) {
            entries.emplace_back(static_cast<int>(wanted.size()), shared.unknown + k, slope(k));
          }
        }
        if (is_free) wanted.push_back(-sum);
      }
    }
    for (const auto& shared : shared_) {
      if (shared.unknown < 0) continue;
      for (int k = 0; k < 2; ++k) {
        entries.emplace_back(static_cast<int>(wanted.size()), shared.unknown + k, held_back(shared));
        wanted.push_back(0);
      }
    }
    Eigen::SparseMatrix<double> matrix(static_cast<Eigen::Index>(wanted.size()), 2 * n_unknown_);
    matrix.setFromTriplets(entries.begin(), entries.end());
    Eigen::LeastSquaresConjugateGradient<Eigen::SparseMatrix<double>> solver(matrix);
    solver.setMaxIterations(most_iterations);
    solver.setTolerance(1e-9);
    const Eigen::VectorXd change = solver.solve(
        Eigen::Map<const Eigen::VectorXd>(wanted.data(), static_cast<Eigen::Index>(wanted.size())));
    for (auto& shared : shared_) {
      if (shared.unknown < 0) continue;
      shared.normal += tangents(shared.normal) * change.segment<2>(shared.unknown);
      shared.normal.normalize();
    }
  }

  const SurfaceMesh& mesh_;
  const EdgeTable& edges_;
  const FacetRegions& regions_;
  Points flat_;
  double rounding_;             ///< or noise of the corners [mm]
  std::vector<int> shared_of_;  ///< (3 n_triangles) first a tree of corners, then numbers of shared normals
  std::vector<SharedNormal> shared_;
  int n_unknown_ = 0;
};

}  // namespace

Points estimate_corner_normals(const SurfaceMesh& mesh, const EdgeTable& edges, const FacetRegions& regions,
                               double corner_error) {
  return CornerEstimate(mesh, edges, regions, corner_error).find();
}

}  // namespace halftool::mesh
