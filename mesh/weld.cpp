#include "mesh/weld.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <unordered_map>

namespace halftool::mesh {
namespace {

using Cell = std::array<std::int64_t, 3>;
struct CellHash {
  std::size_t operator()(const Cell& cell) const {
    std::uint64_t hash = 0;
    for (const std::int64_t i : cell) hash = (hash ^ static_cast<std::uint64_t>(i)) * 0x9e3779b97f4a7c15ULL;
    return hash ^ (hash >> 29);
  }
};

Cell cell_of(const Eigen::Vector3d& x, double size) {
  return {std::llround(std::floor(x.x() / size)), std::llround(std::floor(x.y() / size)),
          std::llround(std::floor(x.z() / size))};
}

/// Nodes that stand for themselves, by cells as large as the tolerance.
class NodeGrid {
 public:
  NodeGrid(const Points& nodes, double tolerance) : nodes_(nodes), tolerance_(tolerance) {}

  /// The nearest known node within the tolerance, or -1.
  [[nodiscard]] int find(const Eigen::Vector3d& x) const {
    const Cell centre = cell_of(x, tolerance_);
    int best = -1;
    double least = tolerance_;
    for (int i = 0; i < 27; ++i) {
      const auto list =
          cells_.find({centre[0] + i % 3 - 1, centre[1] + i / 3 % 3 - 1, centre[2] + i / 9 - 1});
      if (list == cells_.end()) continue;
      for (const int node : list->second) {
        const double distance = (nodes_.row(node).transpose() - x).norm();
        if (distance > least || (distance == least && best >= 0)) continue;
        best = node;
        least = distance;
      }
    }
    return best;
  }
  void add(int node) { cells_[cell_of(nodes_.row(node), tolerance_)].push_back(node); }

 private:
  const Points& nodes_;
  double tolerance_;
  std::unordered_map<Cell, std::vector<int>, CellHash> cells_;
};

}  // namespace

std::vector<int> find_same_nodes(const Points& nodes, double tolerance,
                                 const std::vector<bool>& taking_part) {
  std::vector<int> stands_for(static_cast<std::size_t>(nodes.rows()));
  std::iota(stands_for.begin(), stands_for.end(), 0);
  NodeGrid grid(nodes, tolerance);
  for (std::size_t i = 0; i < stands_for.size(); ++i) {
    if (!taking_part.empty() && !taking_part[i]) continue;
    const int known = grid.find(nodes.row(static_cast<Eigen::Index>(i)));
    if (known >= 0) {
      stands_for[i] = known;
    } else {
      grid.add(static_cast<int>(i));
    }
  }
  return stands_for;
}

void merge_nodes(SurfaceMesh& mesh, const std::vector<int>& stands_for) {
  for (Eigen::Index i = 0; i < mesh.triangles.size(); ++i) {
    int& node = mesh.triangles.data()[i];
    node = stands_for[static_cast<std::size_t>(node)];
  }
  keep_triangles(mesh, std::vector<bool>(static_cast<std::size_t>(mesh.n_triangles()), true));
}

void keep_triangles(SurfaceMesh& mesh, const std::vector<bool>& kept) {
  std::vector<int> number(static_cast<std::size_t>(mesh.n_nodes()), -1);
  int n_triangles = 0;
  int n_nodes = 0;
  Points nodes(mesh.nodes.rows(), 3);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (!kept[static_cast<std::size_t>(t)]) continue;
    for (int i = 0; i < 3; ++i) {
      const int node = mesh.triangles(t, i);
      int& place = number[static_cast<std::size_t>(node)];
      if (place < 0) {
        place = n_nodes++;
        nodes.row(place) = mesh.nodes.row(node);
      }
      mesh.triangles(n_triangles, i) = place;
    }
    ++n_triangles;
  }
  mesh.triangles.conservativeResize(n_triangles, 3);
  mesh.nodes = nodes.topRows(n_nodes);
}

}  // namespace halftool::mesh
