#pragma once
#include <Eigen/Core>

#include "solver/assembly/sheet_model.hpp"

namespace halftool::test {

/// Displacements of a sheet under a vanishing load, scaled to the load: one Newton step from rest, without
/// the line search or the cap on a step that a large load would meet.
class LinearResponse {
 public:
  /// @param model  with its supports
  /// @param load   (equations) on the undeformed sheet
  /// @throws std::runtime_error  the sheet is not held
  LinearResponse(const solver::SheetModel& model, const Eigen::VectorXd& load);

  [[nodiscard]] Eigen::Vector3d displacement(int node) const;
  /// Work of a load (equations) on the displacements: their weighted mean if its forces add up to one.
  [[nodiscard]] double along(const Eigen::VectorXd& load) const { return load.dot(change_); }

 private:
  const solver::SheetModel& model_;
  Eigen::VectorXd change_;
};

/// Forces of a load per area of the undeformed sheet that keeps its direction, (equations); lumped.
/// @param load  [MPa]
Eigen::VectorXd area_load(const solver::SheetModel& model, const Eigen::Vector3d& load);

/// A force on one node, (equations). What acts along a held unknown is left out.
Eigen::VectorXd point_load(const solver::SheetModel& model, int node, const Eigen::Vector3d& force);

/// The node at a point of the undeformed sheet.
/// @throws std::runtime_error  there is none within 1e-6 of the mean edge length
int node_at(const solver::SheetModel& model, const Eigen::Vector3d& point);

}  // namespace halftool::test
