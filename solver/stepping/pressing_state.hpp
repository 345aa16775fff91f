#pragma once
#include <Eigen/Core>

#include "solver/assembly/sheet_model.hpp"
#include "solver/state.hpp"
#include "solver/stepping/guess_choice.hpp"
#include "solver/stepping/path.hpp"
#include "solver/stepping/press_spec.hpp"

namespace halftool::solver {

/// Where a pressing stands between two increments: all that the next ones depend on beside the model, the
/// settings, the tool and the schedule. From a copy it goes on to the same bits.
struct PressingState {
  SheetState sheet;
  Eigen::VectorXd volume_gradient;  ///< (equations) fluid displaced per unit motion, see IncrementSolver
  Eigen::VectorXd shift;            ///< that keeps in contact what thinned in the last increment
  Path path;
  GuessChoice choice;
  double damping = 0;        ///< on top of the viscosity of the settings [MPa/mm]
  int snaps_in_a_row = 0;    ///< attempts that failed unstable since the last accepted increment
  int stays_indefinite = 0;  ///< of the linear system
  bool at_rest = false;      ///< the dwell is over
  int increments = 0;        ///< accepted ones since it began

  /// @param first_volume  of fluid, for the first increment [mm3]
  PressingState(const SheetModel& model, const SolverSettings& settings, double first_volume = 1);

  template <class Archive>
  void serialize(Archive& archive) {
    archive(sheet, volume_gradient, shift, path, choice, damping, snaps_in_a_row, stays_indefinite, at_rest,
            increments);
  }
};

/// A path of pressing from its start.
Path fresh_path(const SheetModel& model, SolverSettings settings, double first_volume);

}  // namespace halftool::solver
