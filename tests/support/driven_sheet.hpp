#pragma once
#include <Eigen/Core>

#include "mesh/tool_surface.hpp"
#include "solver/assembly/sheet_model.hpp"
#include "solver/stepping/increment.hpp"

namespace halftool::test {

/// A sheet on a tool that dead forces and moved held nodes lead, without fluid.
class DrivenSheet {
 public:
  /// @param reference_force  [N] balance is asked for to 1e-6 of it
  DrivenSheet(const solver::SheetModel& model, const mesh::ToolSurface& tool,
              const solver::ContactLaw& contact, double reference_force);
  DrivenSheet(const DrivenSheet&) = delete;
  DrivenSheet& operator=(const DrivenSheet&) = delete;

  /// Goes to a dead load (equations) while the held nodes move by `way` [mm], in proportion and in as many
  /// increments as it takes.
  /// @throws std::runtime_error  no balance in increments of a thousandth of the way
  void go(const Eigen::VectorXd& dead_load, const Eigen::Vector3d& way = Eigen::Vector3d::Zero());

  /// Takes the tool and all loads away.
  /// @throws std::runtime_error  no balance
  void release();

  /// Of what holds the held nodes on the sheet, after the last increment [N].
  [[nodiscard]] const Eigen::Vector3d& held_force() const { return held_force_; }
  [[nodiscard]] const solver::SheetState& state() const { return state_; }
  [[nodiscard]] const solver::Loading& loading() const { return loading_; }
  /// Puts the sheet into the tool by this much [mm], along -z, before anything is driven.
  void lower(double way);

 private:
  solver::IncrementResult balance(const solver::SheetPlace& guess, const solver::Loading& loading);
  void take(const solver::IncrementResult& found);

  const solver::SheetModel& model_;
  solver::RunRecord record_;
  solver::IncrementSolver solver_;
  solver::Loading loading_;
  double reference_force_;
  solver::SheetState state_;
  Eigen::VectorXd dead_load_;
  Eigen::VectorXd change_;  // of the free unknowns in the last increment
  Eigen::Vector3d held_force_ = Eigen::Vector3d::Zero();
};

}  // namespace halftool::test
