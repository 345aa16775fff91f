#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/assembly/sheet_model.hpp"
#include "solver/assembly/sparsity.hpp"
#include "solver/assembly/triangle_force.hpp"

namespace halftool::solver {

/// The sheet's balance of forces in a trial place. Vectors are over the free unknowns.
struct Balance {
  Eigen::VectorXd out_of_balance;  ///< internal less tool less pressure forces
  Eigen::VectorXd pressure_force;  ///< of unit fluid pressure
  Eigen::VectorXd stiffness;       ///< values of the pattern's lower triangle; left empty when not wanted
  std::vector<PointState> points;  ///< (n_triangles * layers) trial history
  std::vector<double> history;     ///< trial, see SheetState
  std::vector<TriangleMemory>
      memory;                ///< (n_triangles) trial: thickness strain, friction, raw contact pressure
  double smallest_gap = 0;   ///< [mm], < 0: penetration
  double friction_work = 0;  ///< of this increment [N mm]
  double plastic_work = 0;   ///< of this increment [N mm]
  double damping_work = 0;   ///< of this increment [N mm]
  Eigen::Vector3d fluid_resultant = Eigen::Vector3d::Zero();  ///< on the sheet [N]
  Eigen::Vector3d tool_resultant = Eigen::Vector3d::Zero();   ///< on the sheet [N]
  Eigen::Vector3d held_resultant =
      Eigen::Vector3d::Zero();  ///< of symmetry planes and held rim on the sheet [N]
  bool valid = false;
  int failed_triangle = -1;  ///< the first that makes it not valid; what is summed is then incomplete
};

/// Sums the triangles on `threads` threads. The sum runs in the order of the triangles, so the bits do not
/// depend on the number of threads.
Balance balance(const SheetModel& model, const SparsityPattern& pattern, const SheetState& committed,
                const SheetPlace& trial, const Loading& loading, bool want_stiffness, int threads);

/// Takes a converged trial over as the next accepted state: history, frames, thickness, friction, contact
/// pressure.
SheetState accept(const SheetModel& model, const SheetState& committed, const SheetPlace& trial,
                  const Balance& balance, double pressure);

}  // namespace halftool::solver
