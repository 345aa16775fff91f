#include "solver/assembly/pressure_spread.hpp"

#include <cmath>
#include <map>
#include <utility>
#include <vector>

namespace halftool::solver {
namespace {

using Cell = std::pair<long, long>;

// Triangle centroids sorted into square cells as wide as the reach, so that neighbours lie in the nine cells
// around.
struct CellGrid {
  double width;
  std::map<Cell, std::vector<int>> triangles;

  [[nodiscard]] Cell cell_of(const Eigen::Vector3d& x) const {
    return {std::lround(std::floor(x.x() / width)), std::lround(std::floor(x.y() / width))};
  }
};

mesh::Points centroids(const mesh::SurfaceMesh& mesh) {
  mesh::Points centres = mesh::Points::Zero(mesh.n_triangles(), 3);
  for (int t = 0; t < mesh.n_triangles(); ++t)
    for (int i = 0; i < 3; ++i) centres.row(t) += mesh.nodes.row(mesh.triangles(t, i)) / 3;
  return centres;
}

}  // namespace

PressureSpread make_pressure_spread(const mesh::Blank& blank) {
  const double reach = blank.thickness;
  const mesh::Points centres = centroids(blank.mesh);
  CellGrid grid{reach, {}};
  for (int t = 0; t < centres.rows(); ++t) grid.triangles[grid.cell_of(centres.row(t))].push_back(t);
  std::vector<Eigen::Triplet<double>> entries;
  for (int t = 0; t < centres.rows(); ++t) {
    const auto [cx, cy] = grid.cell_of(centres.row(t));
    for (long dx = -1; dx <= 1; ++dx)
      for (long dy = -1; dy <= 1; ++dy) {
        const auto found = grid.triangles.find({cx + dx, cy + dy});
        if (found == grid.triangles.end()) continue;
        for (const int other : found->second) {
          const double weight = 1 - (centres.row(t) - centres.row(other)).norm() / reach;
          if (weight > 0) entries.emplace_back(t, other, weight);
        }
      }
  }
  PressureSpread spread(centres.rows(), centres.rows());
  spread.setFromTriplets(entries.begin(), entries.end());
  return spread;
}

}  // namespace halftool::solver
