#include "solver/stepping/thinning_shift.hpp"

#include <Eigen/Geometry>

namespace halftool::solver {

Eigen::VectorXd thinning_shift(const SheetModel& model, const SheetState& before, const SheetState& now) {
  mesh::Points motion = mesh::Points::Zero(now.place.positions.rows(), 3);
  Eigen::VectorXd weight = Eigen::VectorXd::Zero(motion.rows());
  for (int t = 0; t < model.n_triangles(); ++t) {
    if (!now.memory[t].friction.touching) continue;
    const auto nodes = model.blank.mesh.triangles.row(t);
    const Eigen::Vector3d tail = now.place.positions.row(nodes(0));
    const Eigen::Vector3d a = now.place.positions.row(nodes(1)).transpose() - tail;
    const Eigen::Vector3d b = now.place.positions.row(nodes(2)).transpose() - tail;
    const Eigen::Vector3d area = a.cross(b);
    const double shift = 0.5 * (now.memory[t].thickness - before.memory[t].thickness);
    for (int i = 0; i < 3; ++i) {
      motion.row(nodes(i)) += shift * area.transpose();
      weight(nodes(i)) += area.norm();
    }
  }
  SheetPlace shifted = now.place;
  for (Eigen::Index node = 0; node < weight.size(); ++node)
    if (weight(node) > 0) shifted.positions.row(node) += motion.row(node) / weight(node);
  return difference(shifted, now.place, model.equations);
}

}  // namespace halftool::solver
