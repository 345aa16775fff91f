#pragma once
#include <Eigen/Core>
#include <string>

#include "solver/assembly/balance.hpp"
#include "solver/assembly/linear_system.hpp"
#include "solver/result.hpp"
#include "solver/state.hpp"
#include "solver/stepping/press_spec.hpp"

namespace halftool::solver {

/// What an increment is driven by: a pressure to reach, or a volume of fluid to displace with the pressure as
/// unknown.
struct Control {
  enum class Kind { pressure, volume };
  Kind kind = Kind::pressure;
  double volume = 0;  ///< to displace in this increment [mm3], with Kind::volume
};

/// Where an increment starts from: predicted place and pressure.
struct Guess {
  SheetPlace place;
  double pressure = 0;  ///< [MPa]; with Kind::pressure the pressure to reach
};

/// How the iteration ends.
struct Tolerances {
  double force = 1e-3;         ///< out-of-balance force over reference_force; where that is the pressure
                               ///< force, no node may be out of balance by 80 times as much of its own
  double motion = 5e-3;        ///< largest nodal motion of the last correction [mm]; not asked where the
                               ///< out-of-balance force is less than a quarter of what is allowed
  double reference_force = 0;  ///< [N]; 0: the pressure force of the trial
  double least_pressure = 0;   ///< [MPa] the pressure force of the trial counts with at least this pressure
  bool give_up_early = true;   ///< when the iteration makes no headway, for a shorter increment is cheaper
};

struct IncrementResult {
  bool converged = false;
  std::string reason;  ///< why not
  SheetPlace place;
  double pressure = 0;
  double volume = 0;  ///< displaced in this increment [mm3]
  Balance balance;    ///< in `place`, without stiffness
  int iterations = 0;
  double out_of_balance = 0;  ///< over the reference force
  bool unstable = false;      ///< the iteration met tangents under which the sheet would run away by itself
};

/// Adds to a record the wall time of its scope that is not factorisation, solution or element work.
class OtherTime {
 public:
  explicit OtherTime(RunRecord& record);
  ~OtherTime();
  OtherTime(const OtherTime&) = delete;
  OtherTime& operator=(const OtherTime&) = delete;

 private:
  RunRecord& record_;
  double counted_;
  double start_;
};

/// Newton iteration with line search for one increment. Owns the factorisation; adds what it spends to the
/// record.
class IncrementSolver {
 public:
  IncrementSolver(const SheetModel& model, const SolverSettings& settings, RunRecord& record);

  /// @param volume_gradient  (equations) fluid volume displaced per unit motion, frozen; used with
  /// Kind::volume
  IncrementResult solve(const SheetState& committed, const Guess& guess, const Loading& loading,
                        const Control& control, const Eigen::VectorXd& volume_gradient,
                        const Tolerances& tolerances);

  /// Balance in a place, timed.
  Balance evaluate(const SheetState& committed, const SheetPlace& place, const Loading& loading,
                   bool want_stiffness);

  /// Forces that keep their direction [N], moments on turns [N mm]; (equations). None after construction.
  void set_dead_load(const Eigen::VectorXd& load) { dead_load_ = load; }

  /// Springs on single equations [N/mm] that pull to the committed place (rigid motions of the free part).
  void hold(const Eigen::VectorXi& equations, double stiffness);

  /// Displacement per unit pressure with the stiffness of a place; empty if that is not positive definite.
  Eigen::VectorXd response_to_pressure(const SheetState& committed, const Loading& loading);

  /// See LinearSystem.
  [[nodiscard]] int stays_indefinite() const { return system_.stays_indefinite(); }
  void stay_indefinite(int factorisations) { system_.stay_indefinite(factorisations); }

  [[nodiscard]] const SparsityPattern& pattern() const { return pattern_; }
  [[nodiscard]] const SheetModel& model() const { return model_; }
  [[nodiscard]] const SolverSettings& settings() const { return settings_; }
  [[nodiscard]] int threads() const { return threads_; }

 private:
  struct Trial;
  struct Correction;
  Correction correct(const Trial& trial, const Control& control, const Eigen::VectorXd& volume_gradient,
                     double reference);
  double step_along(const SheetState& committed, const Correction& correction, bool search, Loading loading,
                    Trial& trial);
  [[nodiscard]] double misfit_of(const Trial& trial, double out_of_balance,
                                 const Tolerances& tolerances) const;
  FactorOutcome factorise(const Eigen::VectorXd& stiffness, double relative_out_of_balance);

  const SheetModel& model_;
  SolverSettings settings_;
  RunRecord& record_;
  int threads_;
  SparsityPattern pattern_;
  LinearSystem system_;
  Eigen::VectorXd node_area_;  ///< (equations) of the node that an equation belongs to, 0 for edges [mm2]
  Eigen::VectorXd dead_load_;
  Eigen::VectorXi held_;
  double held_stiffness_ = 0;
};

}  // namespace halftool::solver
