#pragma once
#include "solver/stepping/forming.hpp"

namespace halftool::solver {

/// Takes the pressure off a formed part in steps, contact and friction active (prescribing contact forces
/// instead, scaled down, gives springback of either sign).
class Unloading {
 public:
  /// @param formed  must outlive this
  Unloading(IncrementSolver& solver, const FormedPart& formed, Monitor& monitor, RunRecord& record);

  /// The part at a pressure between zero and that of the formed part [MPa], on the tool. At zero, where
  /// nothing holds it there, it may come at the last pressure above that had a balance, 2e-5 of the formed
  /// part's.
  /// @throws SolveError, Stopped
  SheetState lower_to(double pressure);

  /// The loading of the formed part at another pressure [MPa].
  [[nodiscard]] Loading loading_at(double pressure) const;

  /// One balance, counted among the iterations of the release.
  /// @param tolerance  out-of-balance force over reference()
  IncrementResult balance_at(const SheetState& from, const Loading& loading, double tolerance);

  /// Force of the pressing that tolerances are relative to [N].
  [[nodiscard]] double reference() const { return reference_; }

  /// @param share  of the release that is done, 0 to 1
  void report(Phase phase, const SheetState& state, const mesh::ToolSurface* tool, double share);

 private:
  void lower(SheetState& state, double pressure, int halvings);

  IncrementSolver& solver_;
  const SheetModel& model_;
  const FormedPart& formed_;
  Monitor& monitor_;
  RunRecord& record_;
  double reference_ = 0;
};

}  // namespace halftool::solver
